//! An invented piece, its record and its care sheet.

use trowelogue_core::column::{Ahead, Column, Course, Done, Mark, Scale, Seam, Stones, Texture, Words};
use trowelogue_core::drawing::{Anchor, Drawing, Paint, Shape, Stroke, Tone};
use trowelogue_core::id::Hash;
use trowelogue_core::moment::Span;
use trowelogue_papers::model::*;

pub(crate) fn imprint() -> Imprint {
    Imprint {
        shop: "Alder Row Concrete".into(),
        contact: vec!["555-0142".into(), "desk@alder-row.example".into()],
        issued: chrono::DateTime::parse_from_rfc3339("2025-06-02T09:15:00-06:00").unwrap_or_default(),
        issued_text: "2 Jun 2025".into(),
        paper_id: "paper-7f3a".into(),
        tool: "Trowelogue 0.1.0".into(),
        catalogue: "rules 1".into(),
    }
}

pub(crate) fn piece() -> PieceCard {
    PieceCard {
        id: "01954a2e-7c00-7000-8000-0000000000c1".into(),
        code: "C-014".into(),
        name: Some("Kitchen counter, left of the stove".into()),
        job: "Larch Lane kitchen".into(),
        client: "R. Okonjo-Véliz".into(),
        site: Some("12 Larch Lane".into()),
        facts: vec![
            Fact::new("size", "2 140 × 640 × 40 mm"),
            Fact::new("finish", "salt-and-pepper, honed to 400"),
            Fact::new("mix", "GFRC face, grey 3"),
            Fact::new("mass", "≈ 118 kg"),
        ],
        outline: Some(outline()),
        plan: Some(plan_at(1.9)),
    }
}

fn outline() -> Figure {
    plan_at(1.0)
}

/// The plan, so many times as large.
fn plan_at(scale: f64) -> Figure {
    let at = |(x, y): (f64, f64)| (x * scale, y * scale);
    let outer = [(0.0, 0.0), (86.0, 0.0), (86.0, 26.0), (0.0, 26.0)].map(at).to_vec();
    let sink = [(52.0, 6.0), (74.0, 6.0), (74.0, 19.0), (52.0, 19.0)].map(at).to_vec();
    let paint = Paint { fill: Some(Tone::Slurry), stroke: Some(Stroke::solid(Tone::WetConcrete, 0.5)) };
    let label = Shape::Label {
        at: at((2.0, 24.0)),
        anchor: Anchor::Start,
        size: 4.0,
        strong: false,
        text: "2 140 mm".into(),
        tone: Tone::Ink,
    };
    let drawing = Drawing {
        width: 86.0 * scale,
        height: 26.0 * scale,
        shapes: vec![Shape::Polygon { rings: vec![outer, sink], paint }, label],
    };
    Figure { drawing, alt: "Plan outline: a rectangle with one sink cut-out".into(), ..Figure::default() }
}

fn step(n: usize) -> Step {
    let kinds = ["Grit pass", "Acid wash", "Rinse", "Seal coat"];
    Step {
        when: format!("{} Mar 2025 {:02}:20", 1 + n / 4 % 28, 8 + n % 9),
        what: kinds[n % 4].into(),
        region: Some("face".into()),
        values: vec![
            Fact::new("grit", format!("{} resin", 50 << (n % 4))),
            Fact::new("wet or dry", "wet"),
            Fact::new("result", "cut out"),
            Fact::new("surface", "18.5 °C"),
            Fact::new("margin to dew point", "4.2 K"),
        ],
        note: (n.is_multiple_of(5)).then(|| "Left edge needs a second look; señal leve ≥ 2 mm².".into()),
        who: "Ines Marek".into(),
        device: "Bench tablet".into(),
        late: (n % 7 == 3).then(|| "12 Mar 2025 18:02".into()),
        status: if n % 11 == 6 { StepStatus::Replaced } else { StepStatus::Counts },
        hash: format!("{:08x}", n.wrapping_mul(2_654_435_761) as u32),
        marks: match n % 6 {
            1 => vec![StepMark {
                rule: "rinse-neutralise".into(),
                severity: Severity::Stop,
                standing: Standing::Stands,
                title: "Acid not neutralised".into(),
            }],
            4 => vec![StepMark {
                rule: "grit-step".into(),
                severity: Severity::Caution,
                standing: Standing::Accepted,
                title: "Grit step too large".into(),
            }],
            _ => Vec::new(),
        },
    }
}

pub(crate) fn record(steps: usize) -> ProcessRecord {
    let finding = |severity, standing, title: &str| Finding {
        rule: "rinse-neutralise".into(),
        title: title.into(),
        severity,
        standing,
        why: "What is left of the acid keeps dissolving the paste under the sealer; haze and peeling follow."
            .into(),
        basis: "common practice, no source".into(),
        remedy: "Neutralise with household ammonia 10:1, rinse, read the pH of the rinse water.".into(),
        clears: Some("3 Mar 2025 11:00".into()),
        entries: vec!["9e3779b1 Acid wash".into()],
    };
    ProcessRecord {
        imprint: imprint(),
        piece: piece(),
        summary: vec![
            Fact::new("route", "salt-and-pepper, version 2"),
            Fact::new("poured", "21 Feb 2025 07:40"),
            Fact::new("first cut", "26 Feb 2025 09:10"),
            Fact::new("sealed", "12 Mar 2025 15:30"),
            Fact::new("handed over", "20 Mar 2025"),
            Fact::new("people", "Ines Marek, Tomas Brandt"),
        ],
        never_recorded: vec!["pH of the final rinse".into(), "lot of the fill".into()],
        column: Some(column(steps)),
        charts: vec![chart(), chart()],
        map: Some(outline()),
        steps: (0..steps).map(step).collect(),
        findings: vec![
            finding(Severity::Stop, Standing::Stands, "Acid not neutralised"),
            finding(Severity::Caution, Standing::Accepted, "Grit step too large"),
        ],
        exceptions: vec![Exception {
            rule: "grit-step".into(),
            title: "Grit step too large".into(),
            who: "Tomas Brandt".into(),
            when: "5 Mar 2025 16:00".into(),
            why: "Scratches gone under the lamp after a second 200 pass.".into(),
            hash: "3c6ef362".into(),
        }],
        corrections: vec![Correction {
            what: "Grit pass, 2 Mar 2025".into(),
            who: "Ines Marek".into(),
            when: "3 Mar 2025 08:00".into(),
            why: "Wrong pad picked on the screen.".into(),
            before_hash: "78dde6c4".into(),
            before: vec![Fact::new("grit", "100 resin")],
            after_hash: "b54cda56".into(),
            after: Some(vec![Fact::new("grit", "200 resin")]),
        }],
        products: vec![Product {
            name: "Clearfast 2".into(),
            class: "water-borne two-part polyurethane".into(),
            used_for: "seal coats 1 and 2".into(),
            lots: vec!["Q4-118, expires 30 Sep 2025".into()],
            limits: vec![Fact::new("dew-point margin", "3 K (class default)")],
        }],
        devices: vec![Device {
            name: "Bench tablet".into(),
            id: "k3v7q2m5x4n6p7r2s5t6".into(),
            status: "accepted".into(),
            entries: "41 entries, every signature good".into(),
        }],
        photos: vec![
            Photo {
                hash: "aa".repeat(32),
                caption: "Seal coat, 12 Mar 2025".into(),
                alt: "A grey square".into(),
                jpeg: Some(include_bytes!("grey.jpg").to_vec()),
            },
            Photo { hash: "bb".repeat(32), caption: "Rinse, 4 Mar 2025".into(), alt: "-".into(), jpeg: None },
        ],
        glossary: vec![Term {
            term: "cream".into(),
            meaning: "The cement paste skin of a cast face.".into(),
        }],
        basis: vec![Term { term: "rinse-neutralise".into(), meaning: "common practice, no source".into() }],
        attachments: vec![Attachment {
            name: "entries.jsonl".into(),
            mime: "application/jsonl".into(),
            description: "The signed log lines this record was made from".into(),
            relation: Relation::Source,
            bytes: b"{\"e\":{\"v\":1},\"b\":null,\"s\":\"AA\"}\n".to_vec(),
        }],
    }
}

/// A course of `steps` steps with waits between some of them, and what is still ahead.
fn column(steps: usize) -> Column {
    let textures = [Texture::Pour(Stones::Glass), Texture::Grit(300.0), Texture::Wash(0.8), Texture::Coat];
    let first = chrono::DateTime::parse_from_rfc3339("2025-02-21T07:40:00-06:00").unwrap_or_default();
    let words =
        |title: String| Words { title, detail: "as recorded".into(), when: "1 Mar 2025, 08:20".into() };
    let done = |n: usize| Done {
        hash: Hash::of(&[&n.to_be_bytes()]),
        texture: textures[n % textures.len()],
        span: Span::at(first + chrono::TimeDelta::hours((n + n / 4 * 20) as i64)),
        words: words(format!("Layer {n}")),
        findings: (n % 6 == 1).then(|| mark("Acid not neutralised")).into_iter().collect(),
    };
    let ahead = Ahead {
        texture: Texture::Coat,
        earliest: None,
        words: words("Seal coat 3".into()),
        seam: Some(Seam { text: "Drying: clears 1 Apr 2025, 09:00".into(), clears_at: None, open: false }),
    };
    let course = Course {
        title: "Course of C-014".into(),
        done: (0..steps).map(done).collect(),
        ahead: vec![ahead.clone(), ahead],
        now: None,
    };
    trowelogue_core::column::column(&course, Scale::PAPER, trowelogue_core::text::Lang::En)
}

/// A chart with more lines in its legend than are printed.
fn chart() -> Figure {
    let legend = (0..20).map(|n| format!("reading {n}: what was measured, and what it is held against"));
    Figure { caption: Some("A chart".into()), legend: legend.collect(), ..outline() }
}

fn mark(title: &str) -> Mark {
    Mark { key: "k".into(), severity: trowelogue_core::rules::Severity::Stop, title: title.into() }
}

pub(crate) fn care() -> CareSheet {
    let dated = |day: &str| Some(Dated { day: day.into(), basis: "data sheet".into() });
    CareSheet {
        imprint: imprint(),
        groups: vec![CareGroup {
            pieces: vec![piece()],
            place: Place::Kitchen,
            sealer: SealerKind::Polyurethane,
            sealing: vec![
                Fact::new("product", "Clearfast 2"),
                Fact::new("lot", "Q4-118"),
                Fact::new("coats", "2"),
            ],
            handed_over: Some("20 Mar 2025, to R. Okonjo-Véliz".into()),
            dates: CareDates {
                first_water: dated("14 Mar 2025"),
                light_use: dated("16 Mar 2025"),
                full_use: dated("19 Mar 2025"),
                first_test: dated("12 Mar 2026"),
                renewal: None,
                warranty_end: dated("20 Mar 2027"),
            },
            heat_limit: Some("60 °C".into()),
            warranty: vec!["Two years on sealer and fills, counted from handover.".into()],
            touch_up: Some("Ines Marek, lot Q4-118 kept until 2026".into()),
            food_contact: None,
            left_with: vec!["Safety data sheet of Clearfast 2".into()],
        }],
        attachments: Vec::new(),
    }
}
