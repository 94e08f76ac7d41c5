//! Where words stand in a made file: on the page, off its edges, and never on one another.

use crate::reader::{Page, Paper, Word};

/// No word comes nearer to an edge of the sheet, in points: what a desk printer cannot print (about 6 mm).
const EDGE: f64 = 17.0;

/// Measures every word of a paper.
pub(crate) fn measure(paper: &Paper) {
    let name = paper.path.display();
    for (at, page) in paper.boxes().iter().enumerate() {
        let stray = page.words.iter().find(|word| !inside(word, page));
        let stray = stray.map(|word| (&word.text, word.at));
        assert!(stray.is_none(), "{name}, page {}: {stray:?} stands off the page", at + 1);
        let pair = clash(page).map(|(one, other)| (&one.text, &other.text, one.at, other.at));
        assert!(pair.is_none(), "{name}, page {}: {pair:?} stand on one another", at + 1);
    }
}

fn inside(word: &Word, page: &Page) -> bool {
    let [left, top, right, bottom] = word.at;
    left >= EDGE && top >= EDGE && right <= page.size.0 - EDGE && bottom <= page.size.1 - EDGE
}

/// Two words whose letters cover one another.
fn clash(page: &Page) -> Option<(&Word, &Word)> {
    let words = &page.words;
    words.iter().enumerate().find_map(|(at, one)| {
        words[at + 1..].iter().find(|other| meet(letters(one), letters(other))).map(|other| (one, other))
    })
}

/// The middle of a word's box, where its small letters stand: the box itself has room for accents above and for
/// descenders below, which lines may share.
fn letters(word: &Word) -> [f64; 4] {
    let [left, top, right, bottom] = word.at;
    let height = bottom - top;
    [left + 0.2, top + height * 0.38, right - 0.2, bottom - height * 0.28]
}

fn meet(a: [f64; 4], b: [f64; 4]) -> bool {
    a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3]
}
