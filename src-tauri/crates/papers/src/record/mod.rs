//! The process record: everything recorded about one piece, for the warranty file.

mod back;
mod findings;
mod front;
mod steps;

use trowelogue_core::drawing::Tone;
use trowelogue_core::text::Text;

use crate::layout::{Composer, FigureBox, Mark, Para, Region, as_one, grid};
use crate::model::{Figure, Options, Photo, ProcessRecord, Severity, Standing};
use crate::pdf::{Claim, Seal};
use crate::scene::Role;
use crate::seal::Signer;
use crate::text::Span;
use crate::theme::{MM, SECTION, SMALL, SUBSECTION, TABLE};
use crate::{PaperError, photo, sheet, words};

/// Makes the file.
pub(crate) fn make(
    record: &ProcessRecord,
    options: &Options,
    claim: Claim,
    signer: Option<&dyn Signer>,
) -> Result<Vec<u8>, PaperError> {
    let c = compose(record, options);
    let title = format!("{} · {}", words::RECORD.get(options.lang), record.piece.code);
    let subject =
        [&record.piece.code, &record.piece.job, &record.piece.client].map(String::as_str).join(" · ");
    let seal = Some(Seal { signer, description: words::SEAL.get(options.lang) });
    let inside = sheet::Inside { attachments: &record.attachments, claim, seal };
    sheet::finish(c, &record.imprint, options, (title, subject), inside)
}

/// Sets the record into strips.
pub(crate) fn compose(record: &ProcessRecord, options: &Options) -> Composer {
    let lang = options.lang;
    let mut c = sheet::begin(options);
    front::set(&mut c, record, lang);
    course(&mut c, record, lang);
    steps::set(&mut c, &record.steps, lang);
    findings::set(&mut c, record, lang);
    back::set(&mut c, record, lang);
    photos(&mut c, &record.photos, lang);
    back::references(&mut c, record, lang);
    c
}

/// Begins a section under a heading.
fn section(
    c: &mut Composer,
    title: Text,
    lang: trowelogue_core::text::Lang,
    set: impl FnOnce(&mut Composer),
) {
    c.within(Role::Section, |c| {
        c.rule(20.0, Tone::WetConcrete, 1.4);
        c.heading(2, title.get(lang), SECTION, 5.0);
        set(c);
    });
}

fn course(c: &mut Composer, record: &ProcessRecord, lang: trowelogue_core::text::Lang) {
    if let Some(column) = record.column.as_ref().filter(|it| !it.layers.is_empty()) {
        section(c, words::COURSE, lang, |c| {
            c.text(&format!("{} {}", words::CORE.get(lang), column.scale), SMALL, 3.0);
            let alt = format!("{}. {}", column.picture.title, column.picture.text.join(". "));
            c.core(column, alt, 7.0);
        });
    }
    let figures: Vec<&Figure> = record.charts.iter().chain(&record.map).collect();
    if let Some((first, others)) = figures.split_first() {
        c.float(|c| section(c, words::CHARTS, lang, |c| chart(c, first, lang)));
        others.iter().for_each(|figure| c.float(|c| chart(c, figure, lang)));
    }
}

/// The most lines of a legend that are printed; all of them stand in the text equivalent.
const LEGEND: usize = 9;

/// A chart, and beside it what it shows.
fn chart(c: &mut Composer, figure: &Figure, lang: trowelogue_core::text::Lang) {
    let regions = grid(2, c.region, 18.0);
    let room = FigureBox { width: regions[0].width, height: 70.0 * MM };
    let bare = Figure { caption: None, ..figure.clone() };
    let drawn = vec![as_one(c.column(regions[0], |c| c.figure(&bare, room, 0.0)))];
    let said = c.column(regions[1], |c| {
        if let Some(caption) = &figure.caption {
            c.heading(3, caption, SUBSECTION, 0.0);
        }
        let entry = |it: &String| Para::new(vec![Span::new(it, TABLE)]).mark(Mark::Grain).before(2.5);
        if !figure.legend.is_empty() {
            c.list(&figure.legend.iter().take(LEGEND).map(entry).collect::<Vec<_>>());
        }
        if figure.legend.len() > LEGEND {
            c.text(words::MORE.get(lang), SMALL, 4.0);
        }
    });
    c.push_beside(vec![drawn, said], 10.0);
}

fn photos(c: &mut Composer, photos: &[Photo], lang: trowelogue_core::text::Lang) {
    if photos.is_empty() {
        return;
    }
    section(c, words::PHOTOS, lang, |c| {
        let regions = grid(3, c.region, 10.0);
        for row in photos.chunks(3) {
            let cells = row.iter().zip(&regions);
            let cells: Vec<_> =
                cells.map(|(photo, at)| c.column(*at, |c| one_photo(c, photo, *at, lang))).collect();
            c.push_beside(cells.into_iter().map(|cell| vec![as_one(cell)]).collect(), 8.0);
        }
    });
}

fn one_photo(c: &mut Composer, it: &Photo, at: Region, lang: trowelogue_core::text::Lang) {
    let room = FigureBox { width: at.width, height: at.width * 0.75 };
    match it.jpeg.as_deref().map(|file| photo::fitted(file, room)) {
        Some(Ok(jpeg)) => c.photo(std::rc::Rc::new(jpeg), &it.alt, &it.caption, room),
        Some(Err(fault)) => c.refuse(PaperError::Photo { photo: it.hash.clone(), fault }),
        None => {
            c.text(words::NO_PHOTO.get(lang), SMALL, 0.0);
            c.text(&it.caption, SMALL, 2.0);
        }
    }
}

/// Shape of a finding's mark; an accepted one carries a tick.
fn mark(severity: Severity, standing: Standing) -> Mark {
    match (standing, severity) {
        (Standing::Accepted, _) => Mark::Tick,
        (_, Severity::Stop) => Mark::Square,
        (_, Severity::Caution) => Mark::Triangle,
        (_, Severity::Note) => Mark::Ring,
    }
}

/// Tone of a finding.
fn tone(severity: Severity, standing: Standing) -> Tone {
    match (standing, severity) {
        (Standing::Accepted, _) => Tone::Glass,
        (_, Severity::Stop) => Tone::IronOxide,
        (_, Severity::Caution) => Tone::YellowOxide,
        (_, Severity::Note) => Tone::Graphite,
    }
}
