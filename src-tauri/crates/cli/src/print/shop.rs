//! What is recorded; a shop founded or joined.

use std::path::Path;

use trowelogue_api::dto::Lang;
use trowelogue_api::dto::report::{PieceRow, ShopRow, Show, StepRow};
use trowelogue_api::{JoinedShop, RecoveredShop};

use super::{Out, say, words};

/// The shop, its people and devices, and the course of each piece.
pub(crate) fn show(show: &Show, lang: Lang, out: &mut Out) {
    out.line(&say(words::SHOP, lang, &[&show.shop.name, &show.shop.id]));
    let people: Vec<&str> = show.people.iter().map(|it| it.name.as_str()).collect();
    out.line(&say(words::PEOPLE, lang, &[&people.join(", ")]));
    out.line(words::DEVICES.get(lang.into()));
    for it in &show.devices {
        let name = it.name.as_deref().unwrap_or("—");
        out.line(&say(words::DEVICE, lang, &[&it.id, name, &it.shown, &it.last_seq.to_string()]));
    }
    if show.apart + show.waiting > 0 {
        out.line(&say(words::APART, lang, &[&show.apart.to_string(), &show.waiting.to_string()]));
    }
    for job in &show.jobs {
        let client = job.client.as_deref().map(|it| format!(" · {it}")).unwrap_or_default();
        out.line(&(say(words::JOB, lang, &[&job.code, &job.name]) + &client));
    }
    show.pieces.iter().for_each(|it| piece(it, lang, out));
}

fn piece(row: &PieceRow, lang: Lang, out: &mut Out) {
    out.gap();
    let route = row.route.as_deref().map(|it| format!(" · {}", say(words::ROUTE, lang, &[it])));
    let finished = row.finished.then(|| format!(" · {}", words::FINISHED.get(lang.into())));
    out.line(&format!(
        "{} · {}{}{}",
        row.code,
        row.name,
        route.unwrap_or_default(),
        finished.unwrap_or_default()
    ));
    row.steps.iter().for_each(|it| step(it, lang, out));
}

fn step(row: &StepRow, lang: Lang, out: &mut Out) {
    let shown = &row.shown;
    let extras = [&shown.late, &shown.status].into_iter().flatten().map(|it| format!(" · {it}"));
    let extras: String = extras.collect();
    let short = row.hash.get(..12).unwrap_or(&row.hash);
    out.line(&format!(
        "  {} · {} · {} · {}{extras} · {short}",
        shown.done, shown.title, row.person_name, shown.device
    ));
    let facts: Vec<String> = shown.facts.iter().map(|it| format!("{} {}", it.label, it.value)).collect();
    if !facts.is_empty() {
        out.line(&format!("      {}", facts.join("; ")));
    }
    if let Some(note) = &shown.note {
        out.line(&format!("      {}", say(words::SAYS_NOTE, lang, &[note])));
    }
}

/// A shop just founded.
pub(crate) fn founded(shop: &ShopRow, device: &str, recovery: &str, lang: Lang, out: &mut Out) {
    out.line(&say(words::FOUNDED, lang, &[&shop.name, &shop.id]));
    out.line(&say(words::THIS_DEVICE, lang, &[device]));
    out.line(&say(words::RECOVERY, lang, &[recovery]));
}

/// A shop joined.
pub(crate) fn joined(joined: &JoinedShop, folder: &Path, lang: Lang, out: &mut Out) {
    let first = if joined.already { words::JOINED_BEFORE } else { words::JOINED };
    out.line(&say(first, lang, &[joined.session.shop_name()]));
    out.line(&say(words::FINGERPRINT, lang, &[&joined.fingerprint]));
    out.line(&say(words::THIS_DEVICE, lang, &[&joined.device]));
    if joined.session.standing() == trowelogue_api::dto::Standing::Apart {
        out.line(&say(words::ACCEPT_WITH, lang, &[&folder.display().to_string(), &joined.device]));
    }
}

/// A shop recovered.
pub(crate) fn recovered(recovered: &RecoveredShop, lang: Lang, out: &mut Out) {
    out.line(&say(words::RECOVERED, lang, &[recovered.session.shop_name(), &recovered.retired]));
    out.line(&say(words::FINGERPRINT, lang, &[&recovered.fingerprint]));
    out.line(&say(words::THIS_DEVICE, lang, &[&recovered.device]));
}
