//! Data types of the boundary: what the window and the command line get and give.
//!
//! Types of `core` never cross it: a change of a rule or of storage must not change what a screen reads. Whatever
//! a person reads is already in the reader's language and units here.

macro_rules! dto {
    ($($(#[$meta:meta])* pub $what:ident $name:ident $body:tt)*) => {$(
        #[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, ts_rs::TS)]
        #[ts(export)]
        $(#[$meta])*
        pub $what $name $body
    )*};
}

mod common;
mod day;
mod drawing;
mod finding;
mod folder;
mod paper;
mod photo;
mod piece;
pub mod report;
mod start;
mod step;
mod stock;

pub use common::{Choice, Fact, Lang, PaperSize, PieceRef, Severity, Theme, UnitsChoice, When};
pub use day::{
    ClockFace, Day, DayAsk, DayFilters, DayGroup, DayPiece, DayState, FindingsBeside, LabelRead, NextStep,
    PieceClock,
};
pub use drawing::{Anchor, Drawing, Paint, Picture, Shape, Stroke, Tone};
pub use finding::{Finding, FindingState, RuleText};
pub use folder::{
    ApartRow, Break, Changed, DeviceRow, DeviceStatus, FolderPage, HealthRow, Matter, Verified,
};
pub use paper::{PaperAsk, PaperKind, PaperMade};
pub use photo::{PhotoRef, PhotoShown, PhotoState, PhotoTaken};
pub use piece::{
    Column, Conditions, EntryStatus, FindingMark, Gate, HistoryItem, Layer, LayerKind, MapMark, MarkKind,
    PieceMap, PieceSheet, PlanFrame, Seam, StepChoice, ValueChange,
};
pub use start::{
    FolderLook, Founded, Joined, KnownShop, PassphraseState, Recovered, Settings, ShopHead, Standing, Start,
    Words,
};
pub use step::{
    AtOnce, Confirm, Control, DraftNote, Field, Form, Helped, Helper, Logged, NamedSpot, Need, Problem,
    StepDraft, Tried,
};
pub use stock::{
    Hazard, LimitRow, LotRow, ObjectRow, ObjectSheet, RouteEdit, RouteStage, Series, Shelf, ShelfHead,
    StageForm,
};
