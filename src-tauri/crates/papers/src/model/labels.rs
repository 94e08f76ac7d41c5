//! What labels are made from.

use super::Imprint;

/// Labels of pieces, several to a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Labels {
    /// Who issues them.
    pub imprint: Imprint,
    /// The labels, in order.
    pub labels: Vec<Label>,
}

/// The label of a piece.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Label {
    /// Id of the piece; stands in the QR code.
    pub id: String,
    /// The code people use.
    pub code: String,
    /// What it is.
    pub name: Option<String>,
    /// The job.
    pub job: Option<String>,
    /// Where it goes.
    pub place: Option<String>,
    /// What lifting it takes; none where its size is not recorded, and said so.
    pub lift: Option<Lift>,
}

/// What lifting a piece takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lift {
    /// Its mass with unit.
    pub mass: String,
    /// Persons who share it at the limit.
    pub persons: u32,
    /// The shop's limit per person, with unit.
    pub limit: String,
}
