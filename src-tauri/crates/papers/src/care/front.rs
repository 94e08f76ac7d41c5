//! The first page: the piece, its picture, its dates, and what to do and never to do.

use trowelogue_core::drawing::{Drawing, Tone};
use trowelogue_core::text::{Lang, Text};

use super::drawings;
use super::fit::Fit;
use super::{dates, headed, section, words};
use crate::font::Face;
use crate::layout::{
    Beside, Composer, FigureBox, Mark, Para, Pictured, Region, Slab, as_one, clamped, grid, qr_code,
};
use crate::model::{CareGroup, Fact, Figure, PieceCard};
use crate::text::{Span, Style};
use crate::theme::{BODY, DISPLAY, LABEL, LEAD, MM, SMALL, TABLE};

/// Side of the code with its quiet zone.
const CODE: f64 = 27.0 * MM;
/// The most pieces of a group that are pictured; the others are named.
const PICTURED: usize = 9;

/// The sections of the page, in order.
pub(super) fn sections(c: &mut Composer, group: &CareGroup, fit: Fit, lang: Lang) -> Vec<Vec<Slab>> {
    let mut sections = vec![c.column(c.region, |c| head(c, group, lang))];
    if group.handed_over.is_none() {
        sections.push(c.column(c.region, |c| draft(c, lang)));
    }
    sections.push(c.column(c.region, |c| match &group.pieces[..] {
        [piece] => stage(c, piece, fit, lang),
        pieces => gallery(c, pieces, lang),
    }));
    sections.push(section(c, words::DATES, lang, |c| dates::set(c, group, fit, lang)));
    sections.push(c.column(c.region, |c| advice(c, lang)));
    sections
}

/// What paper, which piece, for whom; the code of a single piece beside it.
fn head(c: &mut Composer, group: &CareGroup, lang: Lang) {
    let Some(piece) = group.pieces.first() else { return };
    let width = c.region.width;
    let single = group.pieces.len() == 1;
    let text = Region { x: 0.0, width: if single { width - CODE - 14.0 } else { width } };
    let words = c.column(text, |c| {
        c.text(words::CARE.get(lang), LABEL, 0.0);
        let codes = group.pieces.iter().map(|it| it.code.as_str()).collect::<Vec<_>>().join(", ");
        let style = code_style(c, &codes, text.width);
        let codes = clamped(&c.shaper, &codes, style, text.width, 2);
        c.heading(1, &codes, style, 0.0);
        let name = match &piece.name {
            Some(name) if single => name.clone(),
            _ if single => String::new(),
            _ => format!("{} {}", group.pieces.len(), words::PIECES.get(lang)),
        };
        if !name.is_empty() {
            let name = clamped(&c.shaper, &name, LEAD, text.width, 2);
            c.text(&name, LEAD, 0.0);
        }
        let whom = [Some(&piece.job), Some(&piece.client), piece.site.as_ref()];
        let whom = whom.into_iter().flatten().filter(|it| !it.is_empty()).map(String::as_str);
        let whom = clamped(&c.shaper, &whom.collect::<Vec<_>>().join(" · "), BODY, text.width, 2);
        if !whom.is_empty() {
            c.text(&whom, BODY, 5.0);
        }
    });
    let mut columns = vec![words];
    if single {
        columns.push(c.column(Region { x: width - CODE, width: CODE }, |c| code(c, piece, CODE, lang)));
    }
    c.push_beside(columns, 0.0);
}

/// The largest type in which the code stands on one line.
fn code_style(c: &Composer, code: &str, width: f64) -> Style {
    let sizes = [34.0, 27.0, 21.0, 16.0, 12.0].map(|size| Style { size, leading: size + 2.0, ..DISPLAY });
    let fits = |style: &Style| clamped(&c.shaper, code, *style, width, 1) == code;
    sizes.into_iter().find(fits).unwrap_or(sizes[4])
}

/// The code that names a piece by its id.
fn code(c: &mut Composer, piece: &PieceCard, side: f64, lang: Lang) {
    let Some(drawing) = qr_code(&piece.id, side / MM) else { return };
    let alt = format!("{} {}", crate::words::QR_ALT.get(lang), piece.id);
    let room = FigureBox { width: side, height: side };
    c.figure(&Figure { drawing, alt, ..Figure::default() }, room, 0.0);
}

/// That the piece is not finished, where it is not.
fn draft(c: &mut Composer, lang: Lang) {
    c.panel(Tone::Cream, Some(Tone::YellowOxide), 0.0, |c| {
        let style = LEAD.face(Face::Semibold).tone(Tone::YellowOxide);
        let title = vec![Span::new(words::NOT_HANDED_OVER.get(lang), style)];
        c.para(&Para::new(title).mark(Mark::Triangle));
        c.text(words::NOT_HANDED_OVER_WHY.get(lang), BODY, 2.0);
    });
}

/// The piece, large, on a ground of its own; what it is made of beside or below it.
fn stage(c: &mut Composer, piece: &PieceCard, fit: Fit, lang: Lang) {
    if let Some(figure) = piece.plan.as_ref().or(piece.outline.as_ref()) {
        let outer = c.region;
        let (pad, natural) = (6.0, (figure.drawing.width * MM, figure.drawing.height * MM));
        let room = FigureBox { width: outer.width - 2.0 * pad, height: fit.picture };
        let scale = (room.width / natural.0).min(room.height / natural.1).min(1.0);
        let x = outer.x + (outer.width - natural.0 * scale) / 2.0;
        let bare = Figure { caption: None, ..figure.clone() };
        let drawn = c.column(Region { x, width: room.width }, |c| c.figure(&bare, room, 0.0));
        c.push(vec![grounded(as_one(drawn), outer, pad)]);
    }
    let facts: Vec<Fact> = std::iter::once(Fact::new(words::ID.get(lang), &piece.id))
        .chain(piece.facts.iter().cloned())
        .map(|it| Fact::new(it.label, fit.words(c, &it.value, TABLE, c.region.width / 2.0 - 40.0 * MM)))
        .collect();
    c.ledger(&facts, 2, 30.0 * MM, 3.0);
}

/// A strip on a tinted ground.
fn grounded(drawn: Slab, outer: Region, pad: f64) -> Slab {
    let height = drawn.height + 2.0 * pad;
    let ground = crate::scene::Item::area(outer.x, 0.0, outer.width, height, Tone::Cream);
    let mut slab = Slab { height, items: vec![ground], ..Slab::default() };
    slab.absorb(drawn, pad);
    slab.height = height;
    slab
}

/// Pieces that are cared for alike, each with its outline and its code.
fn gallery(c: &mut Composer, pieces: &[PieceCard], lang: Lang) {
    let side = 15.0 * MM;
    for row in pieces[..pieces.len().min(PICTURED)].chunks(3) {
        let regions = grid(3, c.region, 12.0);
        let cells = row.iter().zip(regions).map(|(piece, at)| {
            let cell = c.column(at, |c| {
                let wide = Region { x: at.x, width: at.width - side - 4.0 };
                let mut columns = Vec::new();
                if let Some(figure) = &piece.outline {
                    let room = FigureBox { width: wide.width, height: side };
                    columns.push(c.column(wide, |c| c.figure(figure, room, 0.0)));
                }
                let narrow = Region { x: at.x + at.width - side, width: side };
                columns.push(c.column(narrow, |c| code(c, piece, side, lang)));
                c.push_beside(columns, 0.0);
                let words = clamped(&c.shaper, &named(piece), TABLE.face(Face::Semibold), at.width, 2);
                c.text(&words, TABLE.face(Face::Semibold), 2.0);
            });
            vec![as_one(cell)]
        });
        let cells = cells.collect();
        c.push_beside(cells, 6.0);
    }
    let others: Vec<String> = pieces.iter().skip(PICTURED).map(named).collect();
    if !others.is_empty() {
        c.text(&others.join("; "), SMALL, 6.0);
    }
}

/// Code and name in a line.
fn named(piece: &PieceCard) -> String {
    std::iter::once(&piece.code).chain(&piece.name).map(String::as_str).collect::<Vec<_>>().join(" · ")
}

/// Every day, wipe at once, never: three columns, each entry with its drawing.
fn advice(c: &mut Composer, lang: Lang) {
    let column = |words: &[Text], drawings: &[Drawing]| -> Vec<(Text, Drawing)> {
        words.iter().copied().zip(drawings.iter().cloned()).collect()
    };
    let columns = [
        (words::DAILY, Tone::Glass, column(&words::DAILY_CARE, &drawings::daily())),
        (words::WIPE, Tone::YellowOxide, column(&words::WIPE_AT_ONCE, &drawings::spills())),
        (words::NEVER, Tone::IronOxide, column(&words::NEVER_USE, &drawings::forbidden())),
    ];
    let regions = grid(3, c.region, 16.0);
    let how = Beside { side: 9.5 * MM, gap: 7.0, before: 7.0 };
    let set = columns.into_iter().zip(regions).map(|((title, tone, entries), region)| {
        c.column(region, |c| {
            headed(c, title, lang, tone, |c| {
                let entry = |(words, drawing): (Text, Drawing)| Pictured {
                    drawing,
                    words: vec![Para::new(vec![Span::new(words.get(lang), BODY)])],
                };
                let mut list = c.column(region, |c| {
                    c.pictured_list(entries.into_iter().map(entry).collect(), how);
                });
                if let Some(first) = list.first_mut() {
                    first.before = 6.0;
                }
                c.push(list);
            });
        })
    });
    let set = set.collect();
    c.push_beside(set, 0.0);
}
