//! The care sheet: what the client keeps and reads in two minutes.

mod words;

use trowelogue_core::drawing::Tone;
use trowelogue_core::text::{Lang, Text};

use crate::font::Face;
use crate::layout::{Composer, Mark, Para, grid};
use crate::model::{CareGroup, CareSheet, Dated, Fact, Imprint, Options};
use crate::pdf::Claim;
use crate::scene::Role;
use crate::text::Span;
use crate::theme::{BODY, LEAD, MM, SECTION, SMALL, TABLE};
use crate::{PaperError, sheet};

/// Makes the file.
pub(crate) fn make(care: &CareSheet, options: &Options, claim: Claim) -> Result<Vec<u8>, PaperError> {
    let lang = options.lang;
    let codes: Vec<&str> = care.groups.iter().flat_map(|it| &it.pieces).map(|it| it.code.as_str()).collect();
    let first = care.groups.first().and_then(|it| it.pieces.first()).ok_or(PaperError::NoPiece)?;
    if care.groups.iter().any(|group| group.pieces.is_empty()) {
        return Err(PaperError::NoPiece);
    }
    let mut c = sheet::begin(options);
    for (at, group) in care.groups.iter().enumerate() {
        if at > 0 {
            c.page_break();
        }
        first_page(&mut c, group, lang);
        c.page_break();
        second_page(&mut c, group, &care.imprint, lang);
    }
    let title = format!("{} · {}", words::CARE.get(lang), codes.join(", "));
    let subject = [first.job.as_str(), first.client.as_str()].join(" · ");
    let inside = sheet::Inside { attachments: &care.attachments, claim, seal: None };
    sheet::finish(c, &care.imprint, options, (title, subject), inside)
}

fn first_page(c: &mut Composer, group: &CareGroup, lang: Lang) {
    let Some((piece, others)) = group.pieces.split_first() else { return };
    sheet::title(c, words::CARE.get(lang), piece, lang);
    for other in others {
        let name = other.name.iter().map(String::as_str);
        let line = std::iter::once(other.code.as_str()).chain(name).collect::<Vec<_>>().join(" · ");
        c.text(&format!("{} {line}", words::PIECES.get(lang)), TABLE, 3.0);
    }
    if group.handed_over.is_none() {
        c.panel(Tone::Cream, Some(Tone::YellowOxide), 10.0, |c| {
            let style = LEAD.face(Face::Semibold).tone(Tone::YellowOxide);
            let title = vec![Span::new(words::NOT_HANDED_OVER.get(lang), style)];
            c.para(&Para::new(title).mark(Mark::Triangle));
            c.text(words::NOT_HANDED_OVER_WHY.get(lang), BODY, 2.0);
        });
    }
    part(c, words::FIRST_DAYS, lang, |c| {
        c.ledger(&dates(group, lang), 2, 38.0 * MM, 4.0);
        c.text(words::FIRST_DAYS_RULE.get(lang), BODY, 8.0);
    });
    advice(c, lang);
    part(c, words::SEALING, lang, |c| {
        c.text(words::sealer(group.sealer).get(lang), BODY, 4.0);
        c.text(words::place(group.place).get(lang), BODY, 4.0);
        if let Some(limit) = &group.heat_limit {
            c.text(&format!("{} {limit}", words::HEAT_LIMIT.get(lang)), BODY.face(Face::Semibold), 4.0);
        }
    });
}

fn second_page(c: &mut Composer, group: &CareGroup, imprint: &Imprint, lang: Lang) {
    part(c, words::RENEW, lang, |c| c.text(words::DROP_TEST.get(lang), BODY, 4.0));
    part(c, words::PATINA, lang, |c| c.text(words::PATINA_IS.get(lang), BODY, 4.0));
    part(c, words::PROBLEM, lang, |c| {
        c.list(&entries(words::REPORT, Mark::Grain, lang));
        c.ledger(&contacts(group, imprint, lang), 1, 38.0 * MM, 6.0);
    });
    part(c, words::FOOD, lang, |c| match &group.food_contact {
        Some(declared) => c.text(&format!("{} {declared}", words::FOOD_DECLARED.get(lang)), BODY, 4.0),
        None => c.text(words::FOOD_UNKNOWN.get(lang), BODY, 4.0),
    });
    part(c, words::WARRANTY, lang, |c| {
        let terms = group.warranty.iter().map(|it| Para::new(vec![Span::new(it, BODY)]).mark(Mark::Grain));
        match group.warranty.as_slice() {
            [] => c.text(words::NO_WARRANTY.get(lang), BODY, 4.0),
            _ => c.list(&terms.collect::<Vec<_>>()),
        }
    });
    c.ledger(&group.sealing, 2, 30.0 * MM, 16.0);
    c.text(words::SUPPLIER_FIRST.get(lang), SMALL, 10.0);
    c.text(crate::words::LEGAL.get(lang), SMALL, 4.0);
}

fn part(c: &mut Composer, title: Text, lang: Lang, set: impl FnOnce(&mut Composer)) {
    c.within(Role::Section, |c| {
        c.rule(14.0, Tone::WetConcrete, 1.2);
        c.heading(2, title.get(lang), SECTION, 4.0);
        set(c);
    });
}

/// Every day, wipe at once, never: three columns, each with its own mark.
fn advice(c: &mut Composer, lang: Lang) {
    let columns = [
        (words::DAILY, words::DAILY_CARE, Mark::Tick),
        (words::WIPE, words::WIPE_AT_ONCE, Mark::Drop),
        (words::NEVER, words::NEVER_USE, Mark::Bar),
    ];
    c.rule(14.0, Tone::WetConcrete, 1.2);
    let regions = grid(3, c.region, 16.0);
    let set = columns.into_iter().zip(regions).map(|((title, advice, mark), region)| {
        c.column(region, |c| {
            c.within(Role::Section, |c| {
                c.heading(2, title.get(lang), SECTION, 4.0);
                c.list(&entries(advice, mark, lang));
            });
        })
    });
    let set = set.collect();
    c.push_beside(set, 4.0);
}

fn entries(texts: &[Text], mark: Mark, lang: Lang) -> Vec<Para> {
    texts.iter().map(|it| Para::new(vec![Span::new(it.get(lang), BODY)]).mark(mark).before(3.0)).collect()
}

fn dates(group: &CareGroup, lang: Lang) -> Vec<Fact> {
    let said = |date: &Option<Dated>| match date {
        Some(date) => format!("{} ({})", date.day, date.basis),
        None => words::NO_DATE.get(lang).to_owned(),
    };
    let dates = &group.dates;
    let mut facts: Vec<Fact> =
        group.handed_over.iter().map(|day| Fact::new(words::HANDED_OVER.get(lang), day)).collect();
    facts.extend([
        Fact::new(words::FIRST_WATER.get(lang), said(&dates.first_water)),
        Fact::new(words::LIGHT_USE.get(lang), said(&dates.light_use)),
        Fact::new(words::FULL_USE.get(lang), said(&dates.full_use)),
        Fact::new(words::FIRST_TEST.get(lang), said(&dates.first_test)),
        Fact::new(words::RENEWAL.get(lang), said(&dates.renewal)),
        Fact::new(words::WARRANTY_END.get(lang), said(&dates.warranty_end)),
    ]);
    facts
}

fn contacts(group: &CareGroup, imprint: &Imprint, lang: Lang) -> Vec<Fact> {
    let mut facts = vec![Fact::new(
        words::CONTACT.get(lang),
        std::iter::once(imprint.shop.as_str())
            .chain(imprint.contact.iter().map(String::as_str))
            .collect::<Vec<_>>()
            .join(" · "),
    )];
    facts.extend(group.touch_up.iter().map(|it| Fact::new(words::TOUCH_UP.get(lang), it)));
    facts.extend(group.left_with.iter().map(|it| Fact::new(words::LEFT_WITH.get(lang), it)));
    facts
}
