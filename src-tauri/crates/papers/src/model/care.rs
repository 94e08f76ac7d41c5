//! What a care sheet is made from.

use super::{Attachment, Fact, Imprint, PieceCard};

/// One care sheet: two pages for each group of pieces that share sealer, place and dates.
#[derive(Debug, Clone, PartialEq)]
pub struct CareSheet {
    /// Who issues it.
    pub imprint: Imprint,
    /// At least one group.
    pub groups: Vec<CareGroup>,
    /// Files carried inside: reminders as `reminders.ics`.
    pub attachments: Vec<Attachment>,
}

/// Pieces cared for alike.
#[derive(Debug, Clone, PartialEq)]
pub struct CareGroup {
    /// The pieces; at least one.
    pub pieces: Vec<PieceCard>,
    /// Where they are used.
    pub place: Place,
    /// Chemistry of the last sealer; decides the advice.
    pub sealer: SealerKind,
    /// Product, lot, coats, last coat and what else is recorded of the sealing.
    pub sealing: Vec<Fact>,
    /// When and to whom it was handed over; none: the sheet is marked "not yet handed over".
    pub handed_over: Option<String>,
    /// The dates that count.
    pub dates: CareDates,
    /// What is hot enough to need a trivet and where that is from, for example `60 °C (data sheet)`.
    pub heat_limit: Option<String>,
    /// Terms of the warranty in brief, a sentence each.
    pub warranty: Vec<String>,
    /// Who to ask for a touch-up, with what and from which lot.
    pub touch_up: Option<String>,
    /// The supplier's own declaration on contact with food, word for word.
    pub food_contact: Option<String>,
    /// Data sheets and products left with the client.
    pub left_with: Vec<String>,
}

/// Dates of the first weeks and years, as shown. What is not known stays empty and is said so.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CareDates {
    /// From when it may get wet.
    pub first_water: Option<Dated>,
    /// From when it may be used lightly.
    pub light_use: Option<Dated>,
    /// From when it may be used fully.
    pub full_use: Option<Dated>,
    /// First water-drop test.
    pub first_test: Option<Dated>,
    /// Renewal at the latest.
    pub renewal: Option<Dated>,
    /// Last day of the warranty.
    pub warranty_end: Option<Dated>,
}

/// A day and where it comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Dated {
    /// The day, as shown.
    pub day: String,
    /// `data sheet`, `class default` or whatever it was computed from.
    pub basis: String,
}

/// Where a piece is used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Kitchen counter or table.
    Kitchen,
    /// Bath, basin, shower.
    Bath,
    /// Wall panel, fire surround.
    Wall,
    /// Floor or stair tread.
    Floor,
    /// Outdoors.
    Outdoor,
}

/// Chemistry of a sealer (trade section 7), as far as care depends on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SealerKind {
    /// Reactive, penetrating.
    Reactive,
    /// Silicate densifier without a further coat.
    Densifier,
    /// Silane or siloxane repellent.
    Repellent,
    /// Acrylic film.
    Acrylic,
    /// Polyurethane film, water-borne or solvent.
    Polyurethane,
    /// Epoxy film.
    Epoxy,
    /// Polyaspartic film.
    Polyaspartic,
    /// UV-cured film.
    UvCured,
    /// Maintenance wax alone.
    Wax,
    /// Not recorded: the sheet keeps to what holds for all.
    Unknown,
}
