//! Rules about the record itself.

pub(crate) mod written_late;
