//! Findings explained, exceptions, corrections with both versions.

use trowelogue_core::text::{Lang, Text};

use super::steps::pair;
use super::{mark, section, tone};
use crate::font::Face;
use crate::layout::{Align, Cell, Column, Composer, Para, Row, Table};
use crate::model::{Correction, Exception, Fact, Finding, ProcessRecord};
use crate::text::Span;
use crate::theme::{BODY, LABEL, MM, SMALL, TABLE};
use crate::words;

/// Sets the sections.
pub(crate) fn set(c: &mut Composer, record: &ProcessRecord, lang: Lang) {
    section(c, words::FINDINGS, lang, |c| {
        if record.findings.is_empty() {
            return c.text(words::NO_FINDINGS.get(lang), BODY, 4.0);
        }
        let rows = alike(&record.findings).iter().map(|(it, causes)| finding(it, causes, lang)).collect();
        table(c, &[(words::FINDING, 0.26), (words::EXPLAINED, 0.74)], rows, lang);
    });
    if !record.exceptions.is_empty() {
        section(c, words::EXCEPTIONS, lang, |c| {
            let columns = [(words::RULE, 0.32), (words::ACCEPTED_BY, 0.28), (words::REASON, 0.4)];
            table(c, &columns, record.exceptions.iter().map(|it| exception(it, lang)).collect(), lang);
        });
    }
    if !record.corrections.is_empty() {
        section(c, words::CORRECTIONS, lang, |c| {
            let columns =
                [(words::CORRECTED, 0.26), (words::FIRST_VERSION, 0.37), (words::NEW_VERSION, 0.37)];
            table(c, &columns, record.corrections.iter().map(|it| correction(it, lang)).collect(), lang);
        });
    }
}

/// A table whose columns take shares of the width.
pub(super) fn table(c: &mut Composer, columns: &[(Text, f64)], rows: Vec<Row>, lang: Lang) {
    let column = |(title, share): &(Text, f64)| Column {
        title: title.get(lang).into(),
        width: c.region.width * share,
        align: Align::Left,
    };
    let table = Table { columns: columns.iter().map(column).collect(), rows, before: 6.0 };
    c.table(&table);
}

/// A line in table type.
pub(super) fn line(text: &str) -> Para {
    Para::new(vec![Span::new(text, TABLE)])
}

/// A strong line in table type.
pub(super) fn strong(text: &str) -> Para {
    Para::new(vec![Span::new(text, TABLE.face(Face::Semibold))])
}

/// A line of small print.
pub(super) fn small(text: &str) -> Para {
    Para::new(vec![Span::new(text, SMALL)])
}

/// The code of a rule, by which it stands in the list of rules.
fn rule(code: &str, lang: Lang) -> Para {
    small(&format!("{} {code}", words::RULE.get(lang))).before(1.5)
}

/// Findings that say the same, together, in the order of the first of each, with the entries that caused each time:
/// what is explained once for forty passes is read; forty times, it is not.
fn alike(findings: &[Finding]) -> Vec<(Finding, Vec<String>)> {
    let mut groups: Vec<(Finding, Vec<String>)> = Vec::new();
    for finding in findings {
        let said = Finding { entries: Vec::new(), ..finding.clone() };
        let cause = finding.entries.join(", ");
        match groups.iter_mut().find(|(it, _)| *it == said) {
            Some((_, causes)) => causes.push(cause),
            None => groups.push((said, vec![cause])),
        }
    }
    groups
}

fn finding(it: &Finding, causes: &[String], lang: Lang) -> Row {
    let words =
        format!("{}, {}", words::severity(it.severity).get(lang), words::standing(it.standing).get(lang));
    let tone = tone(it.severity, it.standing);
    let weight = Para::new(vec![Span::new(words, TABLE.face(Face::Semibold).tone(tone))]);
    let mut name = vec![weight.mark(mark(it.severity, it.standing)), line(&it.title), rule(&it.rule, lang)];
    if causes.len() > 1 {
        name.push(small(&format!("{} {}", causes.len(), words::TIMES.get(lang))));
    }
    name.extend(it.clears.iter().map(|at| small(&format!("{} {at}", words::CLEARS.get(lang)))));
    let part = |label: Text, text: &str| {
        line(text).label(vec![Span::new(label.get(lang), LABEL)], 20.0 * MM).before(1.5)
    };
    let mut body =
        vec![part(words::WHY, &it.why), part(words::REMEDY, &it.remedy), part(words::BASIS, &it.basis)];
    let entries: Vec<&str> = causes.iter().filter(|it| !it.is_empty()).map(String::as_str).collect();
    if !entries.is_empty() {
        body.push(part(words::ENTRIES, &entries.join("; ")));
    }
    Row {
        cells: vec![Cell::naming(name), Cell { paras: body, names_row: false }],
        tint: None,
        bar: Some(tone),
    }
}

fn exception(it: &Exception, lang: Lang) -> Row {
    let entry = format!("{} {}", words::ENTRY.get(lang), it.hash);
    let cells = vec![
        Cell::naming(vec![strong(&it.title), rule(&it.rule, lang)]),
        Cell { paras: vec![line(&it.who), line(&it.when), small(&entry)], names_row: false },
        Cell::of(vec![Span::new(&it.why, TABLE)]),
    ];
    Row { cells, ..Row::default() }
}

fn correction(it: &Correction, lang: Lang) -> Row {
    let version = |hash: &str, facts: &[Fact]| {
        let mut paras: Vec<Para> = facts.iter().map(pair).collect();
        paras.push(small(&format!("{} {hash}", words::ENTRY.get(lang))).before(1.5));
        Cell { paras, names_row: false }
    };
    let new = match &it.after {
        Some(facts) => version(&it.after_hash, facts),
        None => {
            let entry = format!("{} {}", words::ENTRY.get(lang), it.after_hash);
            Cell { paras: vec![line(words::STRUCK_OUT.get(lang)), small(&entry)], names_row: false }
        }
    };
    let name = vec![strong(&it.what), line(&it.who), line(&it.when), line(&it.why).before(1.5)];
    let cells = vec![Cell::naming(name), version(&it.before_hash, &it.before), new];
    Row { cells, ..Row::default() }
}
