//! What every rule file uses.

pub(crate) use super::case::{Case, Past, Subject, covers, region_of};
pub(crate) use super::declare::{Basis, Look, Looked, Rule, Severity};
pub(crate) use super::facts::{answer, count, missing, number, said, word};
pub(crate) use super::finding::Fact;
pub(crate) use super::hit::Hit;
pub(crate) use super::limits::{self, Applied};
pub(crate) use super::near::Reach;
pub(crate) use super::view;
pub(crate) use crate::body::{Kind, Region, common::Answer};
pub(crate) use crate::moment::{add_hours, hours_between};
pub(crate) use crate::shop::Step;
pub(crate) use crate::text::{Text, text};
pub(crate) use crate::units::Dimension;
