//! A few blocks kept back, so that the entry in hand can still be written when the disk is full.

use super::{Home, TAG};
use crate::disk::Open;
use crate::files::write_atomic;

const RESERVE: usize = 64 << 10;

impl Home {
    fn reserve_path(&self) -> std::path::PathBuf {
        self.dir.join("reserve")
    }

    /// Gives the reserve up. True if there was one.
    pub(crate) fn give_up_reserve(&self) -> bool {
        self.disk.remove(&self.reserve_path()).is_ok()
    }

    /// Makes the reserve where it is missing. That it cannot be made is no error: it is tried again.
    pub(crate) fn keep_reserve(&self) {
        let path = self.reserve_path();
        if self.disk.stat(&path).is_err() {
            let _ = write_atomic(self.disk.as_ref(), &path, &[b'.'; RESERVE], TAG, Open::New);
        }
    }
}
