//! Every step in a table, with the findings it caused beside it.

use trowelogue_core::drawing::Tone;
use trowelogue_core::text::Lang;

use super::{mark, section, tone};
use crate::font::Face;
use crate::layout::{Align, Cell, Column, Composer, Mark, Para, Row, Table};
use crate::model::{Fact, Step, StepMark, StepStatus};
use crate::text::{Span, Style};
use crate::theme::{BODY, LABEL, MM, SMALL, TABLE};
use crate::words;

/// Sets the table.
pub(crate) fn set(c: &mut Composer, steps: &[Step], lang: Lang) {
    section(c, words::STEPS, lang, |c| {
        if steps.is_empty() {
            return c.text(words::NO_STEPS.get(lang), BODY, 4.0);
        }
        let table = Table {
            columns: columns(c.region.width, lang),
            rows: steps.iter().map(|step| row(step, lang)).collect(),
            before: 6.0,
        };
        c.table(&table);
    });
}

fn columns(width: f64, lang: Lang) -> Vec<Column> {
    let (when, step, findings) = (23.0 * MM, 37.0 * MM, 37.0 * MM);
    let recorded = width - when - step - findings;
    let titles =
        [(words::WHEN, when), (words::STEP, step), (words::RECORDED, recorded), (words::FINDING, findings)];
    titles.map(|(title, width)| Column { title: title.get(lang).into(), width, align: Align::Left }).into()
}

fn row(step: &Step, lang: Lang) -> Row {
    let worst = step.marks.iter().min_by_key(|it| (it.standing, it.severity));
    Row {
        cells: vec![when(step, lang), what(step, lang), recorded(step, lang), findings(&step.marks, lang)],
        tint: (step.status != StepStatus::Counts).then_some(Tone::Slurry),
        bar: worst.map(|it| tone(it.severity, it.standing)),
    }
}

fn when(step: &Step, lang: Lang) -> Cell {
    let mut paras = vec![Para::new(vec![Span::new(&step.when, TABLE)])];
    if let Some(late) = &step.late {
        let words = format!("{} {late}", words::LATE.get(lang));
        paras.push(Para::new(vec![Span::new(words, SMALL.tone(Tone::Ink))]).mark(Mark::Ring).before(1.5));
    }
    Cell { paras, names_row: false }
}

fn what(step: &Step, lang: Lang) -> Cell {
    let line = |text: &str, style: Style| Para::new(vec![Span::new(text, style)]);
    let mut paras = vec![line(&step.what, TABLE.face(Face::Semibold))];
    paras.extend(step.region.as_ref().map(|region| line(region, TABLE)));
    if let Some(status) = words::status(step.status) {
        paras.push(line(status.get(lang), TABLE.face(Face::Italic)));
    }
    paras.push(line(&format!("{} · {}", step.who, step.device), SMALL).before(1.5));
    paras.push(line(&format!("{} {}", words::ENTRY.get(lang), step.hash), SMALL));
    Cell::naming(paras)
}

fn recorded(step: &Step, lang: Lang) -> Cell {
    let mut paras: Vec<Para> = step.values.iter().map(pair).collect();
    if let Some(note) = &step.note {
        let label = vec![Span::new(words::NOTE_LABEL.get(lang), LABEL)];
        paras.push(Para::new(vec![Span::new(note, TABLE.face(Face::Italic))]).label(label, TAB).before(1.0));
    }
    if paras.is_empty() {
        paras.push(Para::new(vec![Span::new("–", TABLE)]));
    }
    Cell { paras, names_row: false }
}

/// How far in the values of a step begin, in points.
const TAB: f64 = 36.0 * MM;

/// A label and its value on a line.
pub(super) fn pair(fact: &Fact) -> Para {
    Para::new(vec![Span::new(&fact.value, TABLE)]).label(vec![Span::new(&fact.label, LABEL)], TAB)
}

fn findings(marks: &[StepMark], lang: Lang) -> Cell {
    let one = |it: &StepMark| {
        let tone = tone(it.severity, it.standing);
        let weight = words::severity(it.severity).get(lang);
        let standing = words::standing(it.standing).get(lang);
        let head = Span::new(format!("{weight}, {standing}: "), TABLE.face(Face::Semibold).tone(tone));
        let title = Span::new(&it.title, TABLE);
        Para::new(vec![head, title]).mark(mark(it.severity, it.standing)).before(1.5)
    };
    let mut paras: Vec<Para> = marks.iter().map(one).collect();
    if paras.is_empty() {
        paras.push(Para::new(vec![Span::new("–", TABLE.tone(Tone::Graphite))]));
    }
    Cell { paras, names_row: false }
}
