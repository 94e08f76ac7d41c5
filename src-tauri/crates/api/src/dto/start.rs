//! Opening: the shop, this home, its settings.

use std::collections::BTreeMap;

use super::{Choice, Day, Lang, PaperSize, Theme, UnitsChoice};

dto! {
    /// What this device is to the open shop.
    #[derive(Copy, Eq)]
    #[serde(rename_all = "snake_case")]
    pub enum Standing {
        /// No shop is open.
        None,
        /// Accepted, as crew.
        Member,
        /// Accepted, as owner.
        Owner,
        /// Joined, not yet accepted, or retired.
        Apart,
        /// Never joined: it may look.
        Reader,
    }

    /// The shop that is open.
    #[derive(Eq)]
    pub struct ShopHead {
        /// Its id.
        pub id: String,
        /// Its name.
        pub name: String,
        /// The folder.
        pub folder: String,
        /// Who logs on this device.
        pub person: Option<String>,
        /// This device's name.
        pub device: Option<String>,
        /// This device's id in groups: what is read out and compared when it is accepted.
        pub fingerprint: Option<String>,
        /// The shop's id in the same groups: the same on every device of the shop.
        pub mark: String,
        /// Whether the folder is encrypted, and whether this device can read it.
        pub passphrase: PassphraseState,
    }

    /// The passphrase of a shop, as this device stands to it.
    #[derive(Copy, Eq)]
    #[serde(rename_all = "snake_case")]
    pub enum PassphraseState {
        /// The shop has none.
        None,
        /// This device knows it.
        Told,
        /// This device was not told.
        NotTold,
    }

    /// A shop this home has joined.
    #[derive(Eq)]
    pub struct KnownShop {
        /// Its id.
        pub id: String,
        /// Its name.
        pub name: String,
        /// The folder it is bound to.
        pub folder: String,
        /// The folder is there.
        pub reachable: bool,
    }

    /// Settings of this home.
    #[derive(Eq)]
    pub struct Settings {
        /// Language of the screen.
        pub lang: Lang,
        /// Units of the screen.
        pub units: UnitsChoice,
        /// Size of papers.
        pub paper: PaperSize,
        /// Light or dark.
        pub theme: Theme,
        /// Whether the device calls when a clock is over; none: never asked.
        #[serde(default)]
        pub notices: Option<bool>,
        /// Who logs on this device: an id of `people`.
        pub person: Option<String>,
        /// The people of the shop. Ignored when settings are given back.
        #[serde(default)]
        pub people: Vec<Choice>,
    }

    /// What the window shows first.
    pub struct Start {
        /// What this device is to the shop.
        pub standing: Standing,
        /// The open shop.
        pub shop: Option<ShopHead>,
        /// Shops this home has joined.
        pub known: Vec<KnownShop>,
        /// Settings of this home.
        pub settings: Settings,
        /// Version of the program.
        pub version: String,
        /// The day as it was seen last, while the record is being read.
        pub day: Option<Day>,
    }

    /// The words of the interface in one language.
    #[derive(Eq)]
    pub struct Words {
        /// The language.
        pub lang: Lang,
        /// Words by name.
        pub words: BTreeMap<String, String>,
    }

    /// A shop that was founded.
    pub struct Founded {
        /// What the window shows next.
        pub start: Start,
        /// The recovery code: to be printed now; it is stored nowhere.
        pub recovery_key: String,
    }

    /// A shop that was joined.
    pub struct Joined {
        /// What the window shows next.
        pub start: Start,
        /// To be compared with what the owner's device shows.
        pub fingerprint: String,
    }

    /// A shop that was recovered.
    pub struct Recovered {
        /// What the window shows next.
        pub start: Start,
        /// What happened, and what there is to know.
        pub say: String,
    }

    /// What is in a folder, before it is founded or joined.
    #[derive(Eq)]
    pub struct FolderLook {
        /// The folder.
        pub path: String,
        /// The shop in it.
        pub shop: Option<String>,
        /// This home has joined it.
        pub joined: bool,
        /// A shop may be founded there.
        pub empty: bool,
        /// All of it in a sentence.
        pub say: String,
    }
}
