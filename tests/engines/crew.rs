//! Three devices, each with a replica of the folder of its own.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use trowelogue_testkit::faulty::FaultyDisk;
use trowelogue_testkit::trowelogue_core::fold::{digest, fold};
use trowelogue_testkit::trowelogue_core::id::Hash;
use trowelogue_testkit::trowelogue_journal::{Expected, Shop, verify_folder};
use trowelogue_testkit::yard::{Yard, acceptance, append, at, copy_dir, digest_of, hashes_in, note};

pub(crate) const NAMES: [&str; 3] = ["anna", "ben", "cleo"];

/// The devices, and what each was told is durable.
pub(crate) struct Crew {
    pub(crate) yard: Yard,
    pub(crate) shops: Vec<Shop>,
    pub(crate) acked: BTreeSet<Hash>,
    second: i64,
}

/// Where the replica of a device stands.
pub(crate) fn replica(yard: &Yard, name: &str) -> PathBuf {
    yard.dir.path().join(format!("replica-{name}"))
}

impl Crew {
    /// Founds the shop and lets every device join and be accepted, all of it carried faithfully.
    pub(crate) fn new(disk: &FaultyDisk) -> Self {
        let yard = Yard::new().unwrap();
        let home = |name: &str| yard.home_on(name, Arc::new(disk.clone()));
        let first = replica(&yard, NAMES[0]);
        let mut shops = vec![home(NAMES[0]).found(&first, "North Yard Castings", at(0)).unwrap().shop];
        let mut acked = BTreeSet::new();
        for name in &NAMES[1..] {
            let own = replica(&yard, name);
            copy_dir(&first, &own).unwrap();
            let mut shop = home(name).join(&own).unwrap();
            acked.insert(append(&mut shop, note(&format!("{name} is here")), 1).unwrap());
            acked.insert(append(&mut shops[0], acceptance(shop.device(), "crew"), 2).unwrap());
            shops.push(shop);
        }
        Self { yard, shops, acked, second: 10 }
    }

    pub(crate) fn replicas(&self) -> Vec<PathBuf> {
        self.shops.iter().map(|shop| shop.folder().to_path_buf()).collect()
    }

    /// One device writes an entry.
    pub(crate) fn write(&mut self, who: usize) {
        self.second += 1;
        let words = format!("entry {} of {}", self.second, NAMES[who]);
        self.acked.insert(append(&mut self.shops[who], note(&words), self.second).unwrap());
    }

    pub(crate) fn sweep(&mut self, who: usize) {
        self.shops[who].sweep().unwrap();
    }

    /// Sweeps and carries in turn until all is quiet, and then holds everything against everything.
    pub(crate) fn agree(&mut self, when: &str, mut carry: impl FnMut()) {
        for _ in 0..5 {
            for shop in &mut self.shops {
                shop.sweep().unwrap();
            }
            carry();
        }
        let first = digest_of(&self.replicas()[0]).unwrap();
        for (shop, name) in self.shops.iter_mut().zip(NAMES) {
            let merged = shop.read().unwrap().merged;
            let found: BTreeSet<Hash> = merged.records.iter().map(|it| it.hash).collect();
            let lost = self.acked.difference(&found).count();
            assert_eq!(lost, 0, "{when}: {name} lacks {lost} of {} entries", self.acked.len());
            assert_eq!(digest(&fold(&merged)), first, "{when}: {name} sees another state");
            holds(shop.folder(), &self.acked, first, &format!("{when}, {name}"));
        }
    }
}

/// The folder alone, without any home, shows all of it and has no break.
fn holds(folder: &Path, acked: &BTreeSet<Hash>, digest: Hash, when: &str) {
    assert!(hashes_in(folder).unwrap().is_superset(acked), "{when}: the folder lacks entries");
    assert_eq!(digest_of(folder).unwrap(), digest, "{when}: the folder shows another state");
    assert_eq!(verify_folder(folder, &Expected::default()).unwrap().breaks, vec![], "{when}");
}
