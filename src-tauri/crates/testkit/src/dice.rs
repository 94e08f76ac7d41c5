//! Seeded choices, quick enough for millions of them (SplitMix64: Steele, Lea and Flood, 2014).

/// A stream of choices that depends on its seed alone.
#[derive(Debug, Clone)]
pub struct Dice(u64);

impl Dice {
    /// The stream of this seed.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below `end`; 0 where `end` is 0.
    pub fn below(&mut self, end: usize) -> usize {
        let end = end.max(1) as u64;
        usize::try_from(self.bits() % end).unwrap_or_default()
    }

    /// True once in `n` times.
    pub fn once_in(&mut self, n: usize) -> bool {
        self.below(n) == 0
    }

    /// One of the items.
    pub fn pick<'a, T>(&mut self, items: &'a [T]) -> Option<&'a T> {
        items.get(self.below(items.len()))
    }

    /// Puts the items into another order.
    pub fn shuffle<T>(&mut self, items: &mut [T]) {
        for at in (1..items.len()).rev() {
            items.swap(at, self.below(at + 1));
        }
    }
}

/// How many rounds a long test runs: the number of this name from the environment, else the few of every run.
#[allow(clippy::disallowed_methods, reason = "tests alone are told by the environment how long to run")]
pub fn rounds(name: &str, few: usize) -> usize {
    std::env::var(name).ok().and_then(|text| text.parse().ok()).unwrap_or(few)
}
