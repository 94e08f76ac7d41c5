//! The shop whose entries are scattered: four devices, one never accepted, one retired, one forked; corrections,
//! a strike, and an entry that waits for one that never comes.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde_json::{Value, json};
use trowelogue_testkit::entropy::Seeded;
use trowelogue_testkit::trowelogue_core::entry::Merged;
use trowelogue_testkit::trowelogue_core::id::{DeviceId, Hash, ObjectId};
use trowelogue_testkit::trowelogue_core::moment::{self, Moment, Span};
use trowelogue_testkit::trowelogue_journal::{Draft, Home, RealDisk, Shop, read_folder};

/// The logs of one device: the lines of each of its branches, the header first.
pub(crate) struct Branch {
    pub(crate) device: DeviceId,
    pub(crate) lines: Vec<Vec<u8>>,
}

pub(crate) struct Written {
    pub(crate) shop_file: Vec<u8>,
    pub(crate) branches: Vec<Branch>,
    pub(crate) merged: Merged,
}

fn at(minutes: i64) -> Moment {
    moment::parse("2025-03-04T08:00:00-06:00").unwrap() + chrono::TimeDelta::minutes(minutes)
}

fn id(n: u32) -> ObjectId {
    format!("01956000-0000-7000-8000-{n:012}").parse().unwrap()
}

fn draft(kind: &str, body: &Value) -> Draft {
    Draft {
        done: Span::at(at(0)),
        person: id(1),
        kind: kind.into(),
        object: None,
        pieces: Vec::new(),
        peer: None,
        refs: Vec::new(),
        body: body.as_object().unwrap().clone(),
    }
}

fn rinse(times: u32) -> Draft {
    Draft {
        pieces: vec![id(9)],
        ..draft("rinse", &json!({ "standing_water_removed": "yes", "times": times }))
    }
}

fn correct(refs: Vec<Hash>, times: u32) -> Draft {
    let body = json!({ "why": "miscounted", "body": { "standing_water_removed": "yes", "times": times } });
    Draft { refs, ..draft("correction", &body) }
}

/// The homes at work, and a clock that goes on a minute an entry.
struct Yard {
    dir: PathBuf,
    now: i64,
}

impl Yard {
    fn home(&self, name: &str) -> Home {
        Home::open_with(self.dir.join(name), Arc::new(RealDisk), Seeded::new(format!("digest, {name}")))
    }

    fn folder(&self) -> PathBuf {
        self.dir.join("shop")
    }

    fn add(&mut self, shop: &mut Shop, draft: Draft) -> Hash {
        self.now += 1;
        shop.sweep().unwrap();
        shop.append(vec![draft], at(self.now)).unwrap().records[0].hash
    }

    fn about(&mut self, shop: &mut Shop, kind: &str, peer: DeviceId, refs: Vec<Hash>, body: &Value) {
        self.add(shop, Draft { peer: Some(peer), refs, ..draft(kind, body) });
    }
}

impl Written {
    pub(crate) fn new() -> Self {
        let scratch = tempfile::tempdir().unwrap();
        let mut yard = Yard { dir: scratch.path().to_owned(), now: 0 };
        let mut owner = yard.home("owner").found(&yard.folder(), "North Yard", at(0)).unwrap().shop;
        let [mut crew, mut phone, mut stranger] =
            ["crew", "phone", "stranger"].map(|name| yard.home(name).join(&yard.folder()).unwrap());
        yard.add(
            &mut owner,
            Draft { object: Some(id(1)), ..draft("person", &json!({ "name": "Ada Fell" })) },
        );
        let piece = draft("piece", &json!({ "code": "C-01", "name": "slab" }));
        yard.add(&mut owner, Draft { object: Some(id(9)), ..piece });
        yard.about(&mut owner, "accept", crew.device(), vec![], &json!({ "role": "crew" }));
        yard.about(&mut owner, "accept", phone.device(), vec![], &json!({ "role": "owner" }));
        Self::work(&mut yard, &mut owner, &mut crew, &mut phone, &mut stranger);
        let branch = Self::fork(&mut yard, &mut crew);
        yard.add(&mut owner, rinse(40));
        Self::gather(&yard.folder(), branch)
    }

    /// Corrections over corrections, a strike, a retirement, and an entry that waits.
    fn work(yard: &mut Yard, owner: &mut Shop, crew: &mut Shop, phone: &mut Shop, stranger: &mut Shop) {
        let mut seen = Vec::new();
        for round in 0..4 {
            seen.push(yard.add(crew, rinse(round)));
            seen.push(yard.add(phone, rinse(10 + round)));
            yard.add(stranger, rinse(20 + round));
        }
        let first = yard.add(phone, correct(vec![seen[0]], 30));
        let second = yard.add(crew, correct(vec![seen[0]], 31));
        yard.add(owner, correct(vec![first, second], 32));
        yard.add(crew, Draft { refs: vec![seen[3]], ..draft("strike", &json!({ "why": "wrong piece" })) });
        let never = Hash::of(&[b"an entry that never comes"]);
        yard.add(crew, Draft { refs: vec![never], ..draft("strike", &json!({ "why": "wrong piece" })) });
        yard.about(owner, "retire", phone.device(), vec![first], &json!({ "reason": "lost" }));
        yard.add(phone, rinse(33));
    }

    /// Lets a copy of the crew's home go on by itself, out of reach of the folder; gives its log.
    fn fork(yard: &mut Yard, crew: &mut Shop) -> Branch {
        let folder = yard.folder();
        copy(&yard.dir.join("crew"), &yard.dir.join("clone"));
        let away = yard.dir.join("away");
        fs::rename(&folder, &away).unwrap();
        fs::write(&folder, b"no folder").unwrap();
        let mut clone = yard.home("clone").shop(&folder).unwrap();
        for times in 50..53 {
            yard.now += 1;
            clone.append(vec![rinse(times)], at(yard.now)).unwrap();
        }
        fs::remove_file(&folder).unwrap();
        fs::rename(&away, &folder).unwrap();
        let device = clone.device();
        let log = clone.dir().join(format!("journal/{device}/{device}-0001.jsonl"));
        for times in 60..63 {
            yard.add(crew, rinse(times));
        }
        Branch { device, lines: lines_of(&log) }
    }

    fn gather(folder: &Path, clone: Branch) -> Self {
        let logs = folder.join("logs");
        fs::write(logs.join(clone.device.to_string()).join("clone.jsonl"), clone.lines.concat()).unwrap();
        let merged = read_folder(folder).unwrap().merged;
        let mut branches = vec![clone];
        for entry in fs::read_dir(logs).unwrap() {
            let dir = entry.unwrap().path();
            let device: DeviceId = dir.file_name().unwrap().to_str().unwrap().parse().unwrap();
            branches.push(Branch { device, lines: lines_of(&dir.join(format!("{device}-0001.jsonl"))) });
        }
        branches.sort_by(|a, b| (a.device, &a.lines).cmp(&(b.device, &b.lines)));
        Self { shop_file: fs::read(folder.join("shop.json")).unwrap(), branches, merged }
    }
}

fn lines_of(file: &Path) -> Vec<Vec<u8>> {
    let bytes = fs::read(file).unwrap();
    bytes.split_inclusive(|byte| *byte == b'\n').map(<[u8]>::to_vec).collect()
}

pub(crate) fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        let target = to.join(path.file_name().unwrap());
        if path.is_dir() {
            copy(&path, &target);
        } else {
            fs::copy(&path, target).unwrap();
        }
    }
}
