//! Which fields a form has, and in which order a finisher needs them.

use super::control::{control, ratio_of};
use super::propose::Planned;
use super::{Ask, Control, Field, Lines, Need, Slot, head, inspection};
use crate::body::shape::{Declared, Shape, common_fields, own_fields};
use crate::body::{Group, Kind, Needs, labels};
use crate::routes::Words;
use crate::text::{Text, text};
use crate::units::System;

const RATIO: Text = text("ratio", "proporción");
const RATIO_HELP: Text =
    text("parts of water to parts of concentrate: 20:1", "partes de agua por partes de concentrado: 20:1");
const STRENGTH_HELP: Text =
    text("per cent by mass, as on the label", "por ciento en masa, según la etiqueta");
const LINE_HELP: Text =
    text("one a line, with a semicolon between: ", "uno por línea, con punto y coma entre: ");
const NAMED_HELP: Text = text("one a line: name, colon, value", "uno por línea: nombre, dos puntos, valor");

/// Fields shown even where nothing is proposed for them: trade practice asks for them when the step is done, or when
/// the object is set up.
const SHOWN: &[(Kind, &[&str])] = &[
    (Kind::Client, &["contact", "address"]),
    (Kind::Job, &["client", "handover_by", "site"]),
    (
        Kind::Piece,
        &[
            "job",
            "mix",
            "length_mm",
            "width_mm",
            "thickness_mm",
            "finish",
            "use",
            "cut_outs",
            "finished_edges",
        ],
    ),
    (Kind::Mix, &["water_cement", "aim_mpa"]),
    (Kind::Product, &["maker", "sheets", "hazards"]),
    (Kind::Tool, &["vibration_ms2", "water_fed", "life_m2"]),
    (Kind::Person, &["trade", "contact"]),
    (Kind::Pour, &["thickness_mm", "consolidation", "water_added_l", "lots"]),
    (Kind::Strength, &["result_mpa", "trial", "age_h", "specimen"]),
    (Kind::Temperature, &["reading_c"]),
    (Kind::FormPrepared, &["joints_sealed", "sealant_cured", "release"]),
    (Kind::AcidWash, &["dwell_min", "pre_wetted", "metal_masked", "trial_spot"]),
    (Kind::Neutralise, &["dwell_min"]),
    (Kind::Colour, &["ratio", "residue_removed"]),
    (Kind::GritPass, &["tool", "power", "rcd", "dust", "exposure"]),
    (Kind::Fill, &["product", "expires"]),
    (Kind::Densify, &["quantity_l", "area_m2"]),
    (Kind::SealCoat, &["expires", "surface_steady", "quantity_l", "area_m2"]),
    (Kind::Storage, &["tied_back", "rack_rated", "level_supports"]),
    (Kind::Loading, &["tied_back", "rack_rated", "persons"]),
    (Kind::Install, &["adhesive", "adhesive_lot", "sealant"]),
    (Kind::Handover, &["signed", "sheets_given"]),
];

/// Fields that are filled in by the program.
fn is_hidden(kind: Kind, name: &str) -> bool {
    name == "entered" || (kind == Kind::RouteChosen && ["version", "route"].contains(&name))
}

/// Every field of the kind, without proposals.
pub(super) fn fields(ask: &Ask<'_>, planned: Option<&Planned>) -> Vec<Field> {
    let kind = ask.kind;
    let ratio = ratio_of(kind);
    let mut fields = head::fields(ask);
    for declared in own_fields(kind).iter().filter(|it| !is_hidden(kind, &it.name)) {
        match ratio {
            Some((water, other, ref quick)) if declared.name == water => {
                fields.push(ratio_field(declared.must, water, other, quick.clone()));
            }
            Some((_, Some(other), _)) if declared.name == other => {}
            _ => fields.push(field(ask, declared)),
        }
    }
    if kind == Kind::Inspection {
        // The lines carry the list; more of them may be added.
        fields.iter_mut().filter(|it| it.name == "checklist").for_each(|it| it.need = Need::Optional);
        fields.extend(inspection::fields(ask));
    }
    fields.extend(head::until(kind));
    let worked = planned.is_some_and(|it| it.region.is_some());
    fields.extend(common_fields().iter().filter(|it| has_common(kind, &it.name)).map(|declared| {
        let mut field = field(ask, declared);
        if field.name == "region" {
            field.need = region_need(kind, worked);
        }
        field
    }));
    fields
}

fn region_need(kind: Kind, worked: bool) -> Need {
    match kind.needs() {
        Needs::Region => Need::Must,
        _ if worked => Need::Proposed,
        _ => Need::Optional,
    }
}

/// Objects of the shop have neither region nor place; an entry about entries has nothing but notes.
fn has_common(kind: Kind, name: &str) -> bool {
    match (kind.group(), name) {
        (_, "entered") => false,
        // A fill has its places among its own fields.
        (_, "spots") => has_spots(kind),
        (_, "notes") => kind != Kind::Note,
        (Group::Setup, name) => name == "photos",
        (Group::Record, _) => kind == Kind::Note,
        _ => true,
    }
}

/// Whether an entry of this kind may say where on the plan of a piece.
fn has_spots(kind: Kind) -> bool {
    let about_a_piece = matches!(kind.group(), Group::Work | Group::After);
    kind == Kind::Note || (about_a_piece && kind != Kind::Fill)
}

fn field(ask: &Ask<'_>, declared: &Declared) -> Field {
    let name = declared.name.clone();
    let control = control(ask, declared);
    let shown = SHOWN.iter().any(|(kind, names)| *kind == ask.kind && names.contains(&name.as_str()));
    let need = match declared.must {
        true => Need::Must,
        false if shown => Need::Proposed,
        false => Need::Optional,
    };
    let label = labels::field(ask.kind, &name).map_or_else(|| super::control::same(&name), Words::from);
    let help = help(ask, declared, &control);
    Field { name, slot: Slot::Body, shape: declared.shape.clone(), label, help, need, control, value: None }
}

fn ratio_field(
    must: bool,
    water: &'static str,
    other: Option<&'static str>,
    quick: Vec<&'static str>,
) -> Field {
    Field {
        name: "ratio".to_owned(),
        slot: Slot::Parts(water, other),
        shape: Shape::Text,
        label: RATIO.into(),
        help: Some(RATIO_HELP.into()),
        need: if must { Need::Must } else { Need::Proposed },
        control: Control::Ratio { quick },
        value: None,
    }
}

fn help(ask: &Ask<'_>, declared: &Declared, control: &Control) -> Option<Words> {
    match control {
        Control::List(Lines::Records(fields)) | Control::Places(fields) => {
            let mut help = Words::from(LINE_HELP);
            let names = |lang| {
                let words = fields.iter().map(|(name, _)| part_words(ask, name, lang));
                words.collect::<Vec<_>>().join("; ")
            };
            help.en.push_str(&names(crate::text::Lang::En));
            help.es.push_str(&names(crate::text::Lang::Es));
            Some(help)
        }
        Control::List(Lines::Named(_)) => Some(NAMED_HELP.into()),
        Control::Choice { .. } if declared.may_be_unknown && declared.shape == Shape::Number => {
            Some(STRENGTH_HELP.into())
        }
        _ => None,
    }
}

fn part_words(ask: &Ask<'_>, name: &str, lang: crate::text::Lang) -> String {
    let words = labels::field(ask.kind, name).map_or(name, |words| words.get(lang));
    match unit_of(name, ask.reader.system) {
        Some(unit) => format!("{words} ({unit})"),
        None => words.to_owned(),
    }
}

fn unit_of(name: &str, system: System) -> Option<&'static str> {
    super::number::measure(name, false, system).unit
}

/// Puts the fields in order: where, what with, what must be there, what is proposed, the rest.
pub(super) fn arrange(kind: Kind, fields: &mut [Field]) {
    let first = |name: &str| match name {
        "pour" | "job" | "peer" | "refs" => 0,
        "region" if kind.needs() == Needs::Region => 1,
        "product" | "release" => 2,
        _ => 3,
    };
    for field in fields.iter_mut() {
        if field.value.is_some() && field.need == Need::Optional {
            field.need = Need::Proposed;
        }
    }
    fields.sort_by_key(|field| {
        let shown = if field.need == Need::Optional { 3 } else { first(&field.name) };
        (field.need == Need::Optional, shown, field.need)
    });
}
