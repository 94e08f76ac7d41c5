//! The dependency graph as `cargo metadata` prints it, reduced to what the check asks.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use serde_json::Value;

use crate::failure::Failure;

/// An arrow from a package of the workspace to another of it.
pub(super) struct Edge {
    pub(super) to: String,
    /// True when only tests, benches and examples are given the dependency.
    pub(super) only_in_tests: bool,
}

/// Packages by cargo's id. Names alone would not do: two versions of a library share one.
pub(super) struct Graph {
    names: BTreeMap<String, String>,
    members: BTreeSet<String>,
    arrows: BTreeMap<String, Vec<Arrow>>,
}

struct Arrow {
    to: String,
    only_in_tests: bool,
}

impl Graph {
    /// Reads the output of `cargo metadata --format-version 1`.
    ///
    /// # Errors
    /// When it is not JSON or lacks a part that cargo documents.
    pub(super) fn read(metadata: &str) -> Result<Self, Failure> {
        let value: Value = serde_json::from_str(metadata)
            .map_err(|error| Failure::new(format!("cargo metadata printed no JSON: {error}")))?;
        let strange = || Failure::new("cargo metadata has another form than expected");
        Self::from_value(&value).ok_or_else(strange)
    }

    fn from_value(value: &Value) -> Option<Self> {
        let names = list(value, "packages")?
            .map(|package| Some((text(package, "id")?, text(package, "name")?)))
            .collect::<Option<_>>()?;
        let members = list(value, "workspace_members")?
            .map(|id| id.as_str().map(str::to_owned))
            .collect::<Option<_>>()?;
        let arrows = list(value.get("resolve")?, "nodes")?
            .map(|node| Some((text(node, "id")?, arrows_of(node)?)))
            .collect::<Option<_>>()?;
        Some(Self { names, members, arrows })
    }

    /// The names of the workspace's packages.
    pub(super) fn members(&self) -> impl Iterator<Item = &str> {
        self.members.iter().map(|id| self.name(id))
    }

    /// The arrows of a package of the workspace to others of it.
    pub(super) fn edges(&self, package: &str) -> impl Iterator<Item = Edge> {
        let id = self.members.iter().find(|id| self.name(id) == package);
        id.into_iter()
            .flat_map(|id| self.arrows_from(id))
            .filter(|arrow| self.members.contains(&arrow.to))
            .map(|arrow| Edge { to: self.name(&arrow.to).to_owned(), only_in_tests: arrow.only_in_tests })
    }

    /// The shortest way from a package of the workspace to a library that `sought` picks, through
    /// libraries alone: what other packages of the workspace bring in is their affair.
    pub(super) fn path_outside(&self, package: &str, sought: impl Fn(&str) -> bool) -> Option<Vec<&str>> {
        let start = self.members.iter().find(|id| self.name(id) == package)?;
        let mut came_from: BTreeMap<&str, &str> = BTreeMap::new();
        let mut waiting = VecDeque::from([start.as_str()]);
        while let Some(id) = waiting.pop_front() {
            if id != start && sought(self.name(id)) {
                return Some(self.way_to(id, start, &came_from));
            }
            for arrow in self.arrows_from(id) {
                let next = arrow.to.as_str();
                if !self.members.contains(next) && !came_from.contains_key(next) {
                    came_from.insert(next, id);
                    waiting.push_back(next);
                }
            }
        }
        None
    }

    fn way_to<'a>(
        &'a self,
        end: &'a str,
        start: &'a str,
        came_from: &BTreeMap<&'a str, &'a str>,
    ) -> Vec<&'a str> {
        let back = std::iter::successors(Some(end), |id| came_from.get(id).copied());
        let mut way: Vec<&str> = back.take_while(|id| *id != start).map(|id| self.name(id)).collect();
        way.push(self.name(start));
        way.reverse();
        way
    }

    fn arrows_from(&self, id: &str) -> impl Iterator<Item = &Arrow> {
        self.arrows.get(id).into_iter().flatten()
    }

    fn name<'a>(&'a self, id: &'a str) -> &'a str {
        self.names.get(id).map_or(id, String::as_str)
    }
}

fn arrows_of(node: &Value) -> Option<Vec<Arrow>> {
    list(node, "deps")?
        .map(|dependency| {
            let mut kinds = list(dependency, "dep_kinds")?;
            let only_in_tests = kinds.all(|kind| kind.get("kind").and_then(Value::as_str) == Some("dev"));
            Some(Arrow { to: text(dependency, "pkg")?, only_in_tests })
        })
        .collect()
}

fn list<'a>(value: &'a Value, key: &str) -> Option<std::slice::Iter<'a, Value>> {
    Some(value.get(key)?.as_array()?.iter())
}

fn text(value: &Value, key: &str) -> Option<String> {
    value.get(key)?.as_str().map(str::to_owned)
}
