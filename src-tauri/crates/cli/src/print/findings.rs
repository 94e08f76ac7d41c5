//! Findings, what may be done next, rules, breaks.

use trowelogue_api::dto::report::{BreakRow, Check, FindingRow, GateRow, Next, NoteRow, Verify};
use trowelogue_api::dto::{Lang, RuleText, Severity};

use super::{Out, say, words};

/// What the rules found.
pub(crate) fn check(check: &Check, lang: Lang, out: &mut Out) {
    if check.findings.is_empty() {
        return out.line(words::NO_FINDINGS.get(lang.into()));
    }
    for row in &check.findings {
        finding(row, lang, out);
        out.line("");
    }
    let count =
        |fits: &dyn Fn(&FindingRow) -> bool| check.findings.iter().filter(|it| fits(it)).count().to_string();
    let stands = |severity| move |it: &FindingRow| it.state == "stands" && it.severity == severity;
    let counts = [
        count(&stands(Severity::Stop)),
        count(&stands(Severity::Caution)),
        count(&stands(Severity::Note)),
        count(&|it| it.state == "accepted"),
        count(&|it| it.state == "waiting"),
    ];
    out.line(&say(words::STOPS, lang, &counts.each_ref().map(String::as_str)));
}

fn finding(row: &FindingRow, lang: Lang, out: &mut Out) {
    let piece = row.piece_code.as_deref().unwrap_or("—");
    let shown = &row.shown;
    out.line(&format!("{} · {piece} · {} [{}]", shown.severity.to_uppercase(), row.title, row.rule));
    match &row.accepted {
        Some(it) => out.line(&format!("    {}", say(words::ACCEPTED_BY, lang, &[&it.by, &it.why]))),
        None => out.line(&format!("    {}", shown.state)),
    }
    row.facts.iter().for_each(|fact| out.fact(fact));
    for entry in &shown.entries {
        labelled(words::ENTRY, entry, lang, out);
    }
    labelled(words::WHY, &row.why, lang, out);
    labelled(words::BASIS, &row.basis, lang, out);
    labelled(words::TO_DO, &row.remedy, lang, out);
    if let Some(clears) = &shown.clears_at {
        labelled(words::CLEARS, clears, lang, out);
    }
}

fn labelled(label: trowelogue_api::Text, value: &str, lang: Lang, out: &mut Out) {
    out.line(&format!("    {}: {value}", label.get(lang.into())));
}

/// What may be done next.
pub(crate) fn next(next: &Next, lang: Lang, out: &mut Out) {
    if next.pieces.is_empty() {
        return out.line(words::NO_PIECES.get(lang.into()));
    }
    for row in &next.pieces {
        out.line(&format!("{} · {} · {}", row.code, row.name, row.line));
        row.gates.iter().for_each(|it| gate(it, lang, out));
    }
}

fn gate(row: &GateRow, lang: Lang, out: &mut Out) {
    let until = row.until_text.as_deref().map(|it| format!(" → {it}")).unwrap_or_default();
    out.line(&format!("    {} [{}]{until}", row.title, row.rule));
    row.facts.iter().for_each(|fact| out.line(&format!("        {}: {}", fact.label, fact.value)));
    out.line(&format!("        {}: {}", words::WHY.get(lang.into()), row.why));
    out.line(&format!("        {}: {}", words::TO_DO.get(lang.into()), row.remedy));
}

/// The rules.
pub(crate) fn rules(rules: &[RuleText], lang: Lang, out: &mut Out) {
    for rule in rules {
        out.gap();
        let safety =
            if rule.safety { format!(", {}", words::SAFETY.get(lang.into())) } else { String::new() };
        out.line(&format!("{} · {}{safety}", rule.code, rule.severity_text));
        out.line(&format!("    {}", rule.title));
        labelled(words::WHY, &rule.why, lang, out);
        labelled(words::BASIS, &rule.basis, lang, out);
        labelled(words::TO_DO, &rule.remedy, lang, out);
    }
}

/// Whether the files hold.
pub(crate) fn verify(verify: &Verify, lang: Lang, out: &mut Out) {
    for row in &verify.breaks {
        let BreakRow { file, line, kind, text } = row;
        place(words::BREAK, Some(file), *line, &format!("{kind}: {text}"), lang, out);
    }
    for row in &verify.notes {
        let NoteRow { file, line, kind, text, device, range } = row;
        let range = range.map(|(from, to)| format!(" {from}–{to}")).unwrap_or_default();
        let device = device.as_deref().map(|id| format!(" ({id}{range})")).unwrap_or_default();
        place(words::NOTE, file.as_deref(), *line, &format!("{kind}: {text}{device}"), lang, out);
    }
    let entries = verify.entries.to_string();
    let breaks = verify.breaks.len().to_string();
    out.line(&match verify.breaks.len() {
        0 => say(words::WHOLE, lang, &[&entries]),
        _ => say(words::BROKEN, lang, &[&breaks]),
    });
    for row in &verify.health {
        out.line(&row.text);
        if let Some(remedy) = &row.remedy {
            out.line(&format!("    {}: {remedy}", words::TO_DO.get(lang.into())));
        }
    }
}

fn place(
    label: trowelogue_api::Text,
    file: Option<&str>,
    line: Option<u64>,
    said: &str,
    lang: Lang,
    out: &mut Out,
) {
    let mut at = file.map(str::to_owned).unwrap_or_default();
    if let Some(line) = line {
        at = format!("{at}, {}", say(words::LINE, lang, &[&line.to_string()]));
    }
    let at = if at.is_empty() { at } else { format!("{at}: ") };
    out.line(&format!("{}: {at}{said}", label.get(lang.into())));
}
