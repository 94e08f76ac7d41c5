//! The folder: its devices, what is apart, what is wrong.

use super::{Choice, Severity, ShopHead, Standing, When};

dto! {
    /// Whether a device's entries count.
    #[derive(Copy, Eq)]
    #[serde(rename_all = "snake_case")]
    pub enum DeviceStatus {
        /// They count.
        Accepted,
        /// They stand apart.
        Apart,
        /// They count up to a named entry.
        Retired,
    }

    /// A device of the shop.
    #[derive(Eq)]
    pub struct DeviceRow {
        /// Its id.
        pub id: String,
        /// Its name.
        pub name: String,
        /// Who wrote on it last.
        pub person: Option<String>,
        /// Whether its entries count.
        pub status: DeviceStatus,
        /// The word for it.
        pub status_text: String,
        /// It is this one.
        pub this: bool,
        /// It may accept and retire.
        pub owner: bool,
        /// How many entries it wrote.
        #[ts(type = "number")]
        pub entries: u64,
        /// When it wrote last.
        pub last: Option<When>,
        /// Its id in groups, for reading out.
        pub fingerprint: String,
        /// This device may accept it.
        pub may_accept: bool,
        /// This device may retire it.
        pub may_retire: bool,
        /// The role this device may give it instead: `owner` or `crew`.
        pub other_role: Option<String>,
    }

    /// Entries of one device that stand apart.
    #[derive(Eq)]
    pub struct ApartRow {
        /// The device.
        pub device: String,
        /// Its name.
        pub name: String,
        /// How many.
        #[ts(type = "number")]
        pub entries: u64,
        /// When the first was written.
        pub first: Option<When>,
        /// A few of them, in words.
        pub samples: Vec<String>,
    }

    /// One thing to know or to do about the folder.
    #[derive(Eq)]
    pub struct Matter {
        /// Stable, for the screen's list.
        pub key: String,
        /// How much it weighs.
        pub severity: Severity,
        /// What it is.
        pub title: String,
        /// Where: files, devices, numbers.
        pub places: Vec<String>,
        /// What to do.
        pub remedy: String,
        /// Entries of which an owner chooses the one that counts.
        pub settle: Vec<Choice>,
    }

    /// One thing to know of how the folder stands.
    #[derive(Eq)]
    pub struct HealthRow {
        /// Its stable name: `device`, `away`, `due`, `fork`, `waiting`, `photos_missing`, `clock`, else the code of the
        /// fault or the note.
        pub kind: String,
        /// There is nothing to do.
        pub good: bool,
        /// What it is.
        pub text: String,
        /// What to do.
        pub remedy: Option<String>,
    }

    /// The folder page.
    #[derive(Eq)]
    pub struct FolderPage {
        /// The shop.
        pub shop: ShopHead,
        /// What this device is to it.
        pub standing: Standing,
        /// The folder is there.
        pub reachable: bool,
        /// This device's log could be written to it.
        pub writable: bool,
        /// How it stands, in a sentence.
        pub say: String,
        /// The devices.
        pub devices: Vec<DeviceRow>,
        /// What stands apart.
        pub apart: Vec<ApartRow>,
        /// Entries of this device that are not in the folder yet.
        pub not_in_folder: u32,
        /// Entries that wait for one they refer to.
        pub waiting: u32,
        /// Entries written by a newer version.
        pub newer: u32,
        /// What there is to know or to do, the gravest first.
        pub matters: Vec<Matter>,
        /// Hash of the recorded state.
        pub digest: String,
        /// Number of entries.
        #[ts(type = "number")]
        pub entries: u64,
        /// When the folder was last looked at.
        pub last_sweep: When,
    }

    /// One thing that is wrong in the folder.
    #[derive(Eq)]
    pub struct Break {
        /// The file, relative to the folder.
        pub file: String,
        /// The line, from 1; none where the whole file is meant.
        #[ts(type = "number | null")]
        pub line: Option<u64>,
        /// Its stable name.
        pub kind: String,
        /// What it means.
        pub text: String,
    }

    /// The result of checking everything.
    #[derive(Eq)]
    pub struct Verified {
        /// Nothing is wrong.
        pub good: bool,
        /// All of it in a sentence.
        pub say: String,
        /// How it stands, thing by thing, with what to do.
        pub health: Vec<HealthRow>,
        /// What is wrong.
        pub breaks: Vec<Break>,
        /// What there is to know.
        pub notes: Vec<String>,
        /// Entries checked.
        #[ts(type = "number")]
        pub entries: u64,
    }

    /// Something changed.
    #[derive(Eq)]
    pub struct Changed {
        /// Counts changes since the program began.
        #[ts(type = "number")]
        pub generation: u64,
        /// Ids of the pieces it concerns; empty: everything may have changed.
        pub pieces: Vec<String>,
        /// Entries of this device that are not in the folder yet.
        pub not_in_folder: u32,
    }
}
