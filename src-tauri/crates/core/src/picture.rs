//! A drawing with its title and its full text equivalent, as screen and paper show it.

use serde::{Deserialize, Serialize};

use crate::drawing::Drawing;

/// What is drawn, and the same in words: nobody has to see the picture to know what it says.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Picture {
    /// The shapes.
    pub drawing: Drawing,
    /// What the picture is of.
    pub title: String,
    /// Everything the picture says, line by line.
    pub text: Vec<String>,
}
