//! Products, devices, glossary, basis list, what the file carries inside.

use trowelogue_core::text::{Lang, Text};

use super::findings::{line, small, strong, table};
use super::section;
use super::steps::pair;
use crate::layout::{Cell, Composer, Para, Row};
use crate::model::{Device, ProcessRecord, Product, Term};
use crate::words;

/// Sets products and devices.
pub(crate) fn set(c: &mut Composer, record: &ProcessRecord, lang: Lang) {
    if !record.products.is_empty() {
        section(c, words::PRODUCTS, lang, |c| {
            let columns = [(words::PRODUCT, 0.3), (words::LOTS, 0.26), (words::LIMITS, 0.44)];
            table(c, &columns, record.products.iter().map(|it| product(it, lang)).collect(), lang);
        });
    }
    if !record.devices.is_empty() {
        section(c, words::DEVICES, lang, |c| {
            let columns =
                [(words::DEVICE, 0.26), (words::ID, 0.3), (words::STATUS, 0.18), (words::ENTRIES, 0.26)];
            table(c, &columns, record.devices.iter().map(device).collect(), lang);
        });
    }
}

/// Sets glossary, basis list and the list of attachments.
pub(crate) fn references(c: &mut Composer, record: &ProcessRecord, lang: Lang) {
    terms(c, words::GLOSSARY, (words::TERM, words::MEANING), &record.glossary, lang);
    rules(c, &record.basis, lang);
    let files: Vec<Term> = record
        .attachments
        .iter()
        .map(|it| Term { term: it.name.clone(), meaning: it.description.clone() })
        .collect();
    terms(c, words::INSIDE, (words::FILE, words::MEANING), &files, lang);
}

fn terms(c: &mut Composer, title: Text, columns: (Text, Text), terms: &[Term], lang: Lang) {
    if terms.is_empty() {
        return;
    }
    section(c, title, lang, |c| {
        let row = |it: &Term| {
            let cells = vec![Cell::naming(vec![strong(&it.term)]), cell(vec![line(&it.meaning)])];
            Row { cells, ..Row::default() }
        };
        table(c, &[(columns.0, 0.32), (columns.1, 0.68)], terms.iter().map(row).collect(), lang);
    });
}

/// The rules, with the code by which the findings name them.
fn rules(c: &mut Composer, rules: &[Term], lang: Lang) {
    if rules.is_empty() {
        return;
    }
    section(c, words::BASIS_LIST, lang, |c| {
        let row = |it: &Term| {
            let (code, title) = it.term.split_once(": ").unwrap_or(("", &it.term));
            let cells =
                vec![Cell::naming(vec![line(title)]), cell(vec![small(code)]), cell(vec![line(&it.meaning)])];
            Row { cells, ..Row::default() }
        };
        let columns = [(words::RULE, 0.47), (words::CODE, 0.2), (words::BASIS, 0.33)];
        table(c, &columns, rules.iter().map(row).collect(), lang);
    });
}

fn cell(paras: Vec<Para>) -> Cell {
    Cell { paras, names_row: false }
}

fn product(it: &Product, lang: Lang) -> Row {
    let lots = match it.lots.as_slice() {
        [] => vec![line(words::NO_LOT.get(lang))],
        lots => lots.iter().map(|lot| line(lot)).collect(),
    };
    let limits = match it.limits.as_slice() {
        [] => vec![line("–")],
        limits => limits.iter().map(pair).collect(),
    };
    let used = format!("{} {}", words::USED_FOR.get(lang), it.used_for);
    let name = vec![strong(&it.name), line(&it.class), small(&used)];
    Row { cells: vec![Cell::naming(name), cell(lots), cell(limits)], ..Row::default() }
}

fn device(it: &Device) -> Row {
    let cells = vec![
        Cell::naming(vec![strong(&it.name)]),
        cell(vec![small(&it.id)]),
        cell(vec![line(&it.status)]),
        cell(vec![line(&it.entries)]),
    ];
    Row { cells, ..Row::default() }
}
