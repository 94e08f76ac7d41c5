//! The second page: how the piece is sealed, when that is renewed, what to do when something goes wrong, what the
//! shop answers for.

use trowelogue_core::drawing::Tone;
use trowelogue_core::text::Lang;

use super::fit::{Fit, is_cut};
use super::{drawings, headed, section, words};
use crate::font::Face;
use crate::layout::{Beside, Composer, Mark, Para, Pictured, Region, Slab, grid, shows};
use crate::model::{CareGroup, Fact, Imprint};
use crate::text::Span;
use crate::theme::{BODY, MM, SMALL, SUBSECTION, TABLE};

/// Space between two columns of text.
const GUTTER: f64 = 18.0;
/// How a large drawing stands beside its words.
const LARGE: Beside = Beside { side: 19.0 * MM, gap: 10.0, before: 8.0 };

/// The sections of the page, in order. `cut`: something on the first page was cut short.
pub(super) fn sections(
    c: &mut Composer,
    group: &CareGroup,
    imprint: &Imprint,
    cut: bool,
    fit: Fit,
    lang: Lang,
) -> Vec<Vec<Slab>> {
    let mut sections = vec![
        section(c, words::SEALING, lang, |c| sealing(c, group, fit, lang)),
        section(c, words::RENEW, lang, |c| renewal(c, lang)),
        c.column(c.region, |c| patina(c, lang)),
        section(c, words::PROBLEM, lang, |c| problem(c, group, imprint, fit, lang)),
        c.column(c.region, |c| answers(c, group, fit, lang)),
    ];
    let cut = cut || sections.iter().any(|slabs| shows(slabs, is_cut));
    let small =
        [words::SUPPLIER_FIRST, crate::words::LEGAL].into_iter().chain(cut.then_some(words::CUT_SHORT));
    let small: Vec<&str> = small.map(|it| it.get(lang)).collect();
    sections.push(c.column(c.region, |c| c.text(&small.join(" "), SMALL, 0.0)));
    sections
}

/// What the sealer is like and what its place asks for; the facts beside it.
fn sealing(c: &mut Composer, group: &CareGroup, fit: Fit, lang: Lang) {
    let regions = split(c.region);
    let said = c.column(regions[0], |c| {
        c.text(words::sealer(group.sealer).get(lang), BODY, 0.0);
        let mut place = vec![Para::new(vec![Span::new(words::place(group.place).get(lang), BODY)])];
        if let Some(limit) = &group.heat_limit {
            let limit = format!("{} {limit}", words::HEAT_LIMIT.get(lang));
            let limit =
                fit.words(c, &limit, BODY.face(Face::Semibold), regions[0].width - LARGE.side - LARGE.gap);
            place.push(Para::new(vec![Span::new(limit, BODY.face(Face::Semibold))]).before(2.0));
        }
        let mut list = c.column(regions[0], |c| {
            c.pictured_list(vec![Pictured { drawing: drawings::place(group.place), words: place }], LARGE);
        });
        if let Some(first) = list.first_mut() {
            first.before = 8.0;
        }
        c.push(list);
    });
    let width = regions[1].width - 24.0 * MM;
    let shown = |it: &Fact| Fact::new(&it.label, fit.words(c, &it.value, TABLE, width));
    let facts: Vec<Fact> = group.sealing.iter().map(shown).collect();
    let facts = c.column(regions[1], |c| c.ledger(&facts, 1, 24.0 * MM, 0.0));
    c.push_beside(vec![said, facts], 5.0);
}

/// The water-drop test: both answers side by side.
fn renewal(c: &mut Composer, lang: Lang) {
    c.text(words::DROP_TEST.get(lang), BODY, 2.0);
    let regions = grid(2, c.region, GUTTER);
    let answers = words::DROP_SHOWS.into_iter().zip(drawings::drop_test()).zip(regions);
    let columns = answers.map(|(((what, then), drawing), region)| {
        let words = vec![
            Para::new(vec![Span::new(what.get(lang), SUBSECTION)]),
            Para::new(vec![Span::new(then.get(lang), BODY)]).before(1.0),
        ];
        c.column(region, |c| c.pictured_list(vec![Pictured { drawing, words }], LARGE))
    });
    let columns = columns.collect();
    c.push_beside(columns, 6.0);
}

/// What comes with use, and what does not.
fn patina(c: &mut Composer, lang: Lang) {
    let sides = [
        (words::PATINA, Tone::Glass, words::PATINA_IS),
        (words::NO_PATINA, Tone::IronOxide, words::PATINA_IS_NOT),
    ];
    let regions = grid(2, c.region, GUTTER);
    let columns = sides.into_iter().zip(regions).map(|((title, tone, said), region)| {
        c.column(region, |c| headed(c, title, lang, tone, |c| c.text(said.get(lang), BODY, 2.0)))
    });
    let columns = columns.collect();
    c.push_beside(columns, 0.0);
}

/// Four steps in a row, then whom to call.
fn problem(c: &mut Composer, group: &CareGroup, imprint: &Imprint, fit: Fit, lang: Lang) {
    let regions = grid(2, c.region, GUTTER);
    let mut steps =
        words::REPORT.into_iter().zip(drawings::report()).enumerate().map(|(at, (said, drawing))| {
            let number = Span::new(format!("{} ", at + 1), SUBSECTION);
            Pictured { drawing, words: vec![Para::new(vec![number, Span::new(said.get(lang), BODY)])] }
        });
    let how = Beside { side: 14.0 * MM, gap: 9.0, before: 7.0 };
    let columns = regions.into_iter().map(|region| {
        let part: Vec<Pictured> = steps.by_ref().take(2).collect();
        c.column(region, |c| c.pictured_list(part, how))
    });
    let columns = columns.collect();
    c.push_beside(columns, 5.0);
    c.panel(Tone::Cream, Some(Tone::Glass), 10.0, |c| {
        let width = c.region.width - 30.0 * MM;
        let contacts = contacts(group, imprint, lang);
        let shown = |it: Fact| Fact::new(it.label, fit.words(c, &it.value, TABLE, width));
        let shown: Vec<Fact> = contacts.into_iter().map(shown).collect();
        c.ledger(&shown, 1, 30.0 * MM, 0.0);
    });
}

/// Contact with food, and the warranty.
fn answers(c: &mut Composer, group: &CareGroup, fit: Fit, lang: Lang) {
    let regions = grid(2, c.region, GUTTER);
    let width = regions[0].width;
    let food = match &group.food_contact {
        Some(declared) => format!("{} {declared}", words::FOOD_DECLARED.get(lang)),
        None => words::FOOD_UNKNOWN.get(lang).to_owned(),
    };
    let food = fit.words(c, &food, fit.free, width);
    let food = c.column(regions[0], |c| {
        headed(c, words::FOOD, lang, Tone::WetConcrete, |c| c.text(&food, fit.free, 2.0));
    });
    let terms = match group.warranty.as_slice() {
        [] => words::NO_WARRANTY.get(lang).to_owned(),
        terms => terms.join("\n"),
    };
    let terms = fit.words(c, &terms, fit.free, width - 14.0);
    let warranty = c.column(regions[1], |c| {
        headed(c, words::WARRANTY, lang, Tone::WetConcrete, |c| {
            let entry = |it| Para::new(vec![Span::new(it, fit.free)]).mark(Mark::Grain).before(2.0);
            c.list(&terms.lines().map(entry).collect::<Vec<_>>());
        });
    });
    c.push_beside(vec![food, warranty], 0.0);
}

/// A wide and a narrow column.
fn split(region: Region) -> [Region; 2] {
    let wide = (region.width - GUTTER) * 0.56;
    let narrow = region.width - GUTTER - wide;
    [Region { width: wide, ..region }, Region { x: region.x + wide + GUTTER, width: narrow }]
}

fn contacts(group: &CareGroup, imprint: &Imprint, lang: Lang) -> Vec<Fact> {
    let shop = std::iter::once(imprint.shop.as_str()).chain(imprint.contact.iter().map(String::as_str));
    let mut facts = vec![Fact::new(words::CONTACT.get(lang), shop.collect::<Vec<_>>().join(" · "))];
    facts.extend(group.touch_up.iter().map(|it| Fact::new(words::TOUCH_UP.get(lang), it)));
    if !group.left_with.is_empty() {
        facts.push(Fact::new(words::LEFT_WITH.get(lang), group.left_with.join(", ")));
    }
    facts
}
