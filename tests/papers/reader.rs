//! A paper as other people's tools read it.

use std::path::{Path, PathBuf};
use std::process::Command;

/// The tools these tests read papers with.
const TOOLS: [&str; 3] = ["qpdf", "pdftotext", "mutool"];

/// Whether all of them are there; `cargo xtask test` installs them.
pub(crate) fn tools() -> bool {
    let lacking = TOOLS.iter().find(|name| Command::new(name).arg("-v").output().is_err());
    if let Some(name) = lacking {
        eprintln!("passed over: there is no {name} here; `cargo xtask test` installs it");
    }
    lacking.is_none()
}

/// A paper in a file.
pub(crate) struct Paper {
    pub(crate) path: PathBuf,
}

impl Paper {
    /// What both readers extract: poppler's pages in reading order, and mupdf's text.
    pub(crate) fn read(&self) -> Read {
        let checked = run("qpdf", &["--check"], &self.path, &[]);
        assert!(!checked.contains("WARNING"), "{}: {checked}", self.path.display());
        let text = run("pdftotext", &["-raw"], &self.path, &["-"]);
        let mut pages: Vec<String> = text.split('\u{C}').map(str::to_owned).collect();
        // A form feed ends each page, the last one too.
        pages.pop();
        Read { pages, mupdf: squeezed(&run("mutool", &["draw", "-q", "-F", "txt"], &self.path, &[])) }
    }

    /// The words of each page with the boxes they stand in.
    pub(crate) fn boxes(&self) -> Vec<Page> {
        let layout = run("pdftotext", &["-bbox"], &self.path, &["-"]);
        layout.split("<page ").skip(1).map(page).collect()
    }
}

fn run(tool: &str, before: &[&str], paper: &Path, after: &[&str]) -> String {
    let output = Command::new(tool).args(before).arg(paper).args(after).output().unwrap();
    let errors = String::from_utf8_lossy(&output.stderr);
    // Debian's mupdf is built without colour management, and says so.
    let faults: Vec<&str> =
        errors.lines().filter(|it| !it.contains("ICC support is not available")).collect();
    assert!(output.status.success() && faults.is_empty(), "{tool} {}: {faults:?}", paper.display());
    String::from_utf8_lossy(&output.stdout).into_owned()
}

/// A paper's text.
pub(crate) struct Read {
    pub(crate) pages: Vec<String>,
    pub(crate) mupdf: String,
}

impl Read {
    /// The text of all pages without white space and without what stands on every page: a sentence may go on over
    /// the end of a page.
    pub(crate) fn flowing(&self) -> String {
        self.own().concat()
    }

    /// Whether a text is there in one piece. In a row of a table that goes on over the end of a page the cells beside
    /// it stand between: there the rest begins the next page.
    pub(crate) fn holds(&self, text: &str) -> bool {
        let (pages, text) = (self.own(), squeezed(text));
        let goes_on = |pair: &[String]| {
            let mut cuts = text.char_indices().skip(1).map(|(at, _)| text.split_at(at));
            cuts.any(|(before, after)| pair[1].starts_with(after) && pair[0].contains(before))
        };
        pages.concat().contains(&text) || pages.windows(2).any(goes_on)
    }

    /// Each page without white space and without what stands on every page.
    fn own(&self) -> Vec<String> {
        let often = |line: &&str| {
            let on = |page: &&String| page.lines().any(|it| it == *line);
            // The first page has no head.
            self.pages.len() > 2 && self.pages.iter().filter(on).count() >= self.pages.len() - 1
        };
        let numbered = |line: &str, at: usize| {
            let (here, of) = ((at + 1).to_string(), self.pages.len().to_string());
            let words: Vec<&str> = line.split_whitespace().collect();
            matches!(words[..], [.., number, _, total] if number == here && total == of)
        };
        // The head of a table that goes on stands at the top of the next page too.
        let repeated = |line: &str| {
            let on = |page: &&String| page.lines().any(|it| it == line);
            line.split_whitespace().count() >= 3 && self.pages.iter().filter(on).count() > 1
        };
        let own = |(at, page): (usize, &String)| {
            let own = page.lines().filter(|line| !often(line) && !numbered(line, at));
            let top = own.clone().next().is_some_and(|first| at > 0 && repeated(first));
            own.skip(usize::from(top)).map(squeezed).collect()
        };
        self.pages.iter().enumerate().map(own).collect()
    }

    /// Every page says which of how many it is.
    pub(crate) fn is_numbered(&self, page: &str, of: &str) -> bool {
        let count = self.pages.len();
        let said = |(at, text): (usize, &String)| text.contains(&format!("{page} {} {of} {count}", at + 1));
        self.pages.iter().enumerate().all(said)
    }
}

/// Without white space: where lines break is the paper's own.
pub(crate) fn squeezed(text: &str) -> String {
    text.split_whitespace().collect()
}

/// A page and its words.
#[derive(Debug)]
pub(crate) struct Page {
    pub(crate) size: (f64, f64),
    pub(crate) words: Vec<Word>,
}

/// A word and its box: left, top, right, bottom.
#[derive(Debug)]
pub(crate) struct Word {
    pub(crate) at: [f64; 4],
    pub(crate) text: String,
}

fn page(text: &str) -> Page {
    let words = text.split("<word ").skip(1).map(|it| {
        let said = it.split_once('>').and_then(|(_, rest)| rest.split_once("</word>")).unwrap_or_default();
        Word { at: ["xMin", "yMin", "xMax", "yMax"].map(|name| number(it, name)), text: said.0.to_owned() }
    });
    Page { size: (number(text, "width"), number(text, "height")), words: words.collect() }
}

fn number(text: &str, name: &str) -> f64 {
    let after = text.split_once(&format!("{name}=\"")).unwrap().1;
    after.split_once('"').unwrap().0.parse().unwrap()
}
