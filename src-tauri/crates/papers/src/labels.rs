//! Labels: what is stuck to a piece, so that a phone finds its record and a hand knows its weight.
//!
//! The grid is this tool's own: two columns and four rows to a sheet, cut along the marks. The code is 54 mm wide
//! with its quiet zone; a code is read from about ten times its width, which is an arm's length (common practice, no
//! source).

use trowelogue_core::drawing::Tone;
use trowelogue_core::text::{Lang, Text, text};

use crate::font::Face;
use crate::layout::{
    Align, Composer, FigureBox, Frame, Mark, Para, Region, Slab, as_one, clamped, grid, one_line, paginate,
    qr_code,
};
use crate::model::{Figure, Label, Labels, Lift, Options, Paper};
use crate::pdf::{Claim, FileFacts, write};
use crate::scene::{Item, Role, Scene};
use crate::text::{Span, Style};
use crate::theme::{BODY, LABEL, MM, SMALL, TABLE};
use crate::{PaperError, words};

const TITLE: Text = text("Labels", "Etiquetas");
const JOB: Text = text("job", "obra");
const PLACE: Text = text("place", "lugar");
const MASS: Text = text("mass", "masa");
const UNWEIGHED: Text = text(
    "not recorded: weigh it, or find out, before it is lifted",
    "no registrada: pésela o averígüela antes de levantarla",
);
const CUT: Text = text("Cut along the marks.", "Corte por las marcas.");

/// Columns and rows of a sheet.
const GRID: (usize, usize) = (2, 4);
/// Side of the code with its quiet zone.
const CODE: f64 = 54.0 * MM;
/// Space between the edge of a label and what stands on it.
const PAD: f64 = 3.0 * MM;
/// Space above the words, so that they stand level with the code.
const DOWN: f64 = 4.0;
/// Length of a cutting mark.
const TICK: f64 = 4.0 * MM;
/// The words of a label.
const WORDS: Style = Style::new(Face::Regular, 9.0, 11.0);

/// Makes the file.
pub(crate) fn make(labels: &Labels, options: &Options, claim: Claim) -> Result<Vec<u8>, PaperError> {
    let imprint = &labels.imprint;
    let facts = FileFacts {
        issued: imprint.issued,
        paper_id: &imprint.paper_id,
        tool: &imprint.tool,
        catalogue: &imprint.catalogue,
        attachments: &[],
        claim,
        seal: None,
    };
    write(&scene(labels, options)?, &facts)
}

/// The display list of the sheets.
fn scene(labels: &Labels, options: &Options) -> Result<Scene, PaperError> {
    if labels.labels.is_empty() {
        return Err(PaperError::NoPiece);
    }
    let lang = options.lang;
    let mut c = Composer::new(frame(options.paper));
    for (at, row) in labels.labels.chunks(GRID.0).enumerate() {
        if at > 0 && at % GRID.1 == 0 {
            c.page_break();
        }
        let regions = grid(GRID.0, c.region, 0.0);
        let cells = row.iter().zip(regions);
        let cells = cells.map(|(label, at)| vec![cell(&mut c, label, at, lang)]).collect();
        c.push_beside(cells, 0.0);
    }
    let slabs = c.finish()?;
    let title = title(labels, lang);
    let foot = format!("{} · {} · {}", CUT.get(lang), labels.imprint.issued_text, labels.imprint.tool);
    let furnish = |page, total| furniture(&c, &foot, (page, total), lang);
    let (pages, outline) = paginate(slabs, &c.frame, &furnish);
    let subject = labels.labels[0].job.clone().unwrap_or_default();
    let author = labels.imprint.shop.clone();
    Ok(Scene { lang, title, author, subject, pages, tree: c.tree, outline, images: c.images })
}

fn title(labels: &Labels, lang: Lang) -> String {
    let codes: Vec<&str> = labels.labels.iter().map(|it| it.code.as_str()).collect();
    format!("{} · {}", TITLE.get(lang), codes.join(", "))
}

/// The grid of a sheet. Nothing of it comes nearer than ten millimetres to the edge, where printers end.
fn frame(paper: Paper) -> Frame {
    let sheet = Frame::of(paper).size;
    Frame {
        size: sheet,
        left: 12.0 * MM,
        right: sheet.0 - 12.0 * MM,
        top: 12.0 * MM,
        bottom: sheet.1 - 15.0 * MM,
    }
}

fn row_height(frame: &Frame) -> f64 {
    frame.height() / GRID.1 as f64
}

/// A label in its place: words at the left, the code at the right.
fn cell(c: &mut Composer, label: &Label, at: Region, lang: Lang) -> Slab {
    let height = row_height(&c.frame);
    let outer = c.parent;
    c.parent = c.tree.add(outer, Role::Section);
    let width = at.width - CODE - 2.0 * PAD;
    let region = Region { x: at.x + PAD, width };
    // Where two lines for each are too many, one has to do.
    let room = height - 2.0 * PAD - DOWN;
    let fits = |c: &mut Composer| as_one(c.column(region, |c| say(c, label, 2, lang))).height <= room;
    let lines = if c.tried(fits) { 2 } else { 1 };
    let said = c.column(region, |c| say(c, label, lines, lang));
    let code = c.column(Region { x: at.x + at.width - PAD - CODE, width: CODE }, |c| code(c, label, lang));
    c.parent = outer;
    let mut slab = Slab { height, ..Slab::default() };
    let said = as_one(said);
    slab.absorb(said, PAD + DOWN);
    let code = as_one(code);
    let down = (height - code.height) / 2.0;
    slab.absorb(code, down);
    slab.height = height;
    slab
}

fn code(c: &mut Composer, label: &Label, lang: Lang) {
    let Some(drawing) = qr_code(&label.id, CODE / MM) else { return };
    let alt = format!("{} {}", words::QR_ALT.get(lang), label.id);
    let room = FigureBox { width: CODE, height: CODE };
    c.figure(&Figure { drawing, alt, ..Figure::default() }, room, 0.0);
}

fn say(c: &mut Composer, label: &Label, lines: usize, lang: Lang) {
    let width = c.region.width;
    let style = code_style(c, &label.code, width);
    let code = clamped(&c.shaper, &label.code, style, width, lines);
    c.heading(1, &code, style, 0.0);
    if let Some(name) = &label.name {
        let style = BODY.face(Face::Semibold);
        let name = clamped(&c.shaper, name, style, width, lines);
        c.text(&name, style, 1.0);
    }
    for (title, value) in [(JOB, &label.job), (PLACE, &label.place)] {
        let Some(value) = value else { continue };
        c.text(title.get(lang), LABEL, 4.0);
        let value = clamped(&c.shaper, value, WORDS, width, lines);
        c.text(&value, WORDS, 0.0);
    }
    c.text(MASS.get(lang), LABEL, 4.0);
    match &label.lift {
        Some(lift) => lifted(c, lift, lang),
        None => c.text(UNWEIGHED.get(lang), TABLE, 0.0),
    }
}

/// The mass, and who is needed to lift it.
fn lifted(c: &mut Composer, lift: &Lift, lang: Lang) {
    let width = c.region.width;
    let mass = BODY.face(Face::Semibold);
    c.text(&clamped(&c.shaper, &lift.mass, mass, width, 1), mass, 0.0);
    let style = TABLE.face(Face::Semibold).tone(Tone::YellowOxide);
    let persons = Para::new(vec![Span::new(persons(lift.persons, lang), style)]);
    c.para(&if lift.persons > 1 { persons.mark(Mark::Triangle) } else { persons });
    c.text(&clamped(&c.shaper, &each(&lift.limit, lang), SMALL, width, 1), SMALL, 0.0);
}

/// `lift with 4 persons or gear`.
fn persons(count: u32, lang: Lang) -> String {
    match (count, lang) {
        (1, Lang::En) => "one person".into(),
        (n, Lang::En) => format!("{n} persons, or gear"),
        (1, Lang::Es) => "una persona".into(),
        (n, Lang::Es) => format!("{n} personas, o medios"),
    }
}

fn each(limit: &str, lang: Lang) -> String {
    match lang {
        Lang::En => format!("at {limit} each"),
        Lang::Es => format!("a {limit} cada una"),
    }
}

/// The largest type in which the code stands on one line.
fn code_style(c: &Composer, code: &str, width: f64) -> Style {
    let sizes = [26.0, 21.0, 17.0, 13.0, 10.0].map(|size| Style::new(Face::Semibold, size, size + 2.0));
    let fits = |style: &Style| clamped(&c.shaper, code, *style, width, 1) == code;
    sizes.into_iter().find(fits).unwrap_or(sizes[4])
}

/// The cutting marks and the line at the foot.
fn furniture(c: &Composer, foot: &str, (page, total): (usize, usize), lang: Lang) -> Vec<Item> {
    let frame = &c.frame;
    let mut items = marks(frame);
    let at = frame.bottom + TICK + 2.0;
    let half = frame.width() / 2.0;
    let line = |words: &str, align, x, width| {
        let slab = one_line(&c.shaper, words, SMALL, align, (x, width), None);
        slab.items.into_iter().map(move |item| item.moved(0.0, at))
    };
    items.extend(line(foot, Align::Left, frame.left, half * 1.5));
    items.extend(line(&words::page(page, total, lang), Align::Right, frame.left + half * 1.5, half * 0.5));
    items
}

/// Short lines where the grid's lines leave it, and a cross where two of them meet.
fn marks(frame: &Frame) -> Vec<Item> {
    let across = (0..=GRID.0).map(|n| frame.left + frame.width() * n as f64 / GRID.0 as f64);
    let down: Vec<f64> = (0..=GRID.1).map(|n| frame.top + row_height(frame) * n as f64).collect();
    let rule = |from, to| Item::rule(from, to, Tone::Graphite, 0.5);
    let mut items = Vec::new();
    for x in across {
        items.push(rule((x, frame.top - TICK - 1.0), (x, frame.top - 1.0)));
        items.push(rule((x, frame.bottom + 1.0), (x, frame.bottom + TICK + 1.0)));
        for y in &down[1..GRID.1] {
            items.push(rule((x, y - TICK / 2.0), (x, y + TICK / 2.0)));
        }
    }
    let (left, right) = (frame.left, frame.right);
    let middle = f64::midpoint(left, right);
    for y in &down {
        items.push(rule((left - TICK - 1.0, *y), (left - 1.0, *y)));
        items.push(rule((right + 1.0, *y), (right + TICK + 1.0, *y)));
        items.push(rule((middle - TICK / 2.0, *y), (middle + TICK / 2.0, *y)));
    }
    items
}

#[cfg(test)]
#[path = "labels_tests.rs"]
mod tests;
