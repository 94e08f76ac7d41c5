//! Choices that are the same in every run: a failing case is named by its number.

use trowelogue_testkit::entropy::Seeded;

pub(crate) struct Chance(Seeded);

impl Chance {
    pub(crate) fn of(case: u64) -> Self {
        Self(Seeded::new(format!("digest, case {case}")))
    }

    /// A number from 0 to `end`, `end` left out.
    pub(crate) fn below(&mut self, end: usize) -> usize {
        u32::from_be_bytes(self.0.take()) as usize % end.max(1)
    }

    pub(crate) fn coin(&mut self) -> bool {
        self.below(2) == 0
    }

    pub(crate) fn shuffle<T>(&mut self, items: &mut [T]) {
        for at in (1..items.len()).rev() {
            items.swap(at, self.below(at + 1));
        }
    }
}
