//! How far this device's own log stands in the folder, as it was seen last.

use super::Shop;
use crate::scan::Root;

impl Shop {
    /// The highest number among this device's entries that were seen in the folder; 0 where none was, or where
    /// the folder has not been in reach since this shop was opened.
    pub fn last_in_folder(&self) -> u64 {
        let device = self.device();
        let own = self.scanner.files(Root::Folder).filter(|(_, tracked)| tracked.device == Some(device));
        own.filter_map(|(_, tracked)| tracked.range).map(|(_, last)| last).max().unwrap_or(0)
    }
}
