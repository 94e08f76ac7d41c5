//! The first page: piece, verdict, summary.

use trowelogue_core::drawing::Tone;
use trowelogue_core::text::Lang;

use crate::layout::{Composer, Mark, Para};
use crate::model::{Finding, ProcessRecord, Severity, Standing};
use crate::scene::Role;
use crate::text::Span;
use crate::theme::{BODY, MM, SECTION, SMALL, SUBSECTION};
use crate::{sheet, words};

/// Sets it.
pub(crate) fn set(c: &mut Composer, record: &ProcessRecord, lang: Lang) {
    sheet::title(c, words::RECORD.get(lang), &record.piece, lang);
    c.within(Role::Section, |c| verdict(c, record, lang));
    c.within(Role::Section, |c| {
        c.heading(2, words::SUMMARY.get(lang), SECTION, 16.0);
        c.ledger(&record.summary, 2, 30.0 * MM, 4.0);
    });
    c.text(words::LEGAL.get(lang), SMALL, 12.0);
}

fn verdict(c: &mut Composer, record: &ProcessRecord, lang: Lang) {
    let standing = |weight| standing(&record.findings, weight);
    let worst = [Severity::Stop, Severity::Caution].into_iter().find(|weight| standing(*weight) > 0);
    let bar = match worst {
        Some(Severity::Stop) => Tone::IronOxide,
        Some(_) => Tone::YellowOxide,
        None => Tone::Glass,
    };
    c.panel(Tone::Cream, Some(bar), 14.0, |c| {
        c.heading(2, words::VERDICT.get(lang), SECTION, 0.0);
        c.list(&sentences(record, lang));
        if !record.never_recorded.is_empty() {
            c.heading(3, words::NEVER.get(lang), SUBSECTION, 6.0);
            let entry = |it: &String| Para::new(vec![Span::new(it, BODY)]).mark(Mark::Grain);
            c.list(&record.never_recorded.iter().map(entry).collect::<Vec<_>>());
        }
    });
}

fn standing(findings: &[Finding], weight: Severity) -> usize {
    findings.iter().filter(|it| it.severity == weight && it.standing == Standing::Stands).count()
}

fn sentences(record: &ProcessRecord, lang: Lang) -> Vec<Para> {
    let mut out = Vec::new();
    for weight in [Severity::Stop, Severity::Caution, Severity::Note] {
        let count = standing(&record.findings, weight);
        if count > 0 || weight == Severity::Stop {
            let mark = if count == 0 { Mark::Tick } else { super::mark(weight, Standing::Stands) };
            out.push((words::standing_count(count, weight, lang), mark));
        }
    }
    let accepted = record.findings.iter().filter(|it| it.standing == Standing::Accepted).count();
    if accepted > 0 {
        out.push((words::accepted_count(accepted, lang), Mark::Tick));
    }
    out.into_iter().map(|(words, mark)| Para::new(vec![Span::new(words + ".", BODY)]).mark(mark)).collect()
}
