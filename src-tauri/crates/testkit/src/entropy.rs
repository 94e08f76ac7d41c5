//! Random bytes that are the same each time: SHA-256 of a seed and a counter.

use trowelogue_core::id::Hash;
use trowelogue_journal::{Entropy, Error};

/// A stream of bytes that depends on its seed alone.
#[derive(Debug, Clone)]
pub struct Seeded {
    seed: String,
    block: u64,
    left: Vec<u8>,
}

impl Seeded {
    /// The stream of this seed.
    pub fn new(seed: impl Into<String>) -> Self {
        Self { seed: seed.into(), block: 0, left: Vec::new() }
    }

    /// The next `N` bytes.
    pub fn take<const N: usize>(&mut self) -> [u8; N] {
        let mut bytes = [0; N];
        for byte in &mut bytes {
            *byte = self.next_byte();
        }
        bytes
    }

    fn next_byte(&mut self) -> u8 {
        if self.left.is_empty() {
            self.left = Hash::of(&[self.seed.as_bytes(), &self.block.to_be_bytes()]).0.to_vec();
            self.block += 1;
        }
        self.left.pop().unwrap_or_default()
    }
}

impl Entropy for Seeded {
    fn fill(&mut self, bytes: &mut [u8]) -> Result<(), Error> {
        for byte in bytes {
            *byte = self.next_byte();
        }
        Ok(())
    }
}
