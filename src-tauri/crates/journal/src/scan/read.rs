//! Reading many files, on all cores.

use std::collections::HashMap;
use std::io;
use std::thread;

use trowelogue_core::id::Hash;

use super::list::{Listed, named_like_a_log};
use crate::disk::Disk;
use crate::gather::{self, Gathered};
use crate::segment::{self, Context, Segment};
use crate::sight::Sight;

/// Files read together before their lines are merged: bounds the memory.
pub(super) const CHUNK: usize = 16;
const MAX_THREADS: usize = 4;

/// What reading one file gave.
pub(super) enum Outcome {
    /// Its lines and its bytes.
    Read(Box<(Gathered, Segment, Hash)>),
    /// The same bytes as a file read before.
    Same(Hash),
    /// It vanished, or cannot be read.
    Failed(io::Error),
}

/// Reads the files; `seen` holds the digests of files that were read without a fault.
pub(super) fn read_all<T: Sync>(
    disk: &dyn Disk,
    files: &[&Listed],
    context: &Context<'_>,
    sight: &Sight,
    seen: &HashMap<Hash, T>,
) -> Vec<Outcome> {
    let threads = thread::available_parallelism().map_or(1, usize::from).min(MAX_THREADS).min(files.len());
    if threads < 2 {
        return files.iter().map(|file| read_one(disk, file, context, sight, seen)).collect();
    }
    let share = files.len().div_ceil(threads);
    thread::scope(|scope| {
        let work = |part| move || -> Vec<Outcome> { part_of(disk, part, context, sight, seen) };
        let running: Vec<_> = files.chunks(share).map(|part| scope.spawn(work(part))).collect();
        running.into_iter().flat_map(join).collect()
    })
}

fn part_of<T: Sync>(
    disk: &dyn Disk,
    part: &[&Listed],
    context: &Context<'_>,
    sight: &Sight,
    seen: &HashMap<Hash, T>,
) -> Vec<Outcome> {
    part.iter().map(|file| read_one(disk, file, context, sight, seen)).collect()
}

/// A thread that panicked goes on panicking here, as if there had been one thread only.
fn join(handle: thread::ScopedJoinHandle<'_, Vec<Outcome>>) -> Vec<Outcome> {
    handle.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))
}

fn read_one<T>(
    disk: &dyn Disk,
    file: &Listed,
    context: &Context<'_>,
    sight: &Sight,
    seen: &HashMap<Hash, T>,
) -> Outcome {
    let gathered =
        disk.read(&file.path).and_then(|source| gather::gather(source, named_like_a_log(&file.name)));
    let gathered = match gathered {
        Ok(gathered) => gathered,
        Err(error) => return Outcome::Failed(error),
    };
    let digest = Hash::of(&[&gathered.bytes]);
    if seen.contains_key(&digest) && gathered.is_exact() {
        return Outcome::Same(digest);
    }
    let gathered = sight.of(gathered);
    let segment = segment::read(&gathered, context);
    Outcome::Read(Box::new((gathered, segment, digest)))
}
