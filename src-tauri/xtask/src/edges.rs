//! Who may depend on whom. The arrows of the layout, checked against what cargo resolved.

mod graph;
#[cfg(test)]
mod tests;

use crate::checkout::Checkout;
use crate::child;
use crate::failure::Failure;
use crate::say;
use crate::tally::Tally;

use graph::{Edge, Graph};

/// Every package of the workspace and what it may depend on inside it. Nothing else may.
const ARROWS: [(&str, &[&str]); 10] = [
    ("trowelogue-core", &[]),
    ("trowelogue-journal", &["trowelogue-core"]),
    ("trowelogue-store", &["trowelogue-core"]),
    ("trowelogue-papers", &["trowelogue-core"]),
    ("trowelogue-api", &["trowelogue-core", "trowelogue-journal", "trowelogue-store", "trowelogue-papers"]),
    ("trowelogue-cli", &["trowelogue-api"]),
    ("trowelogue-app", &["trowelogue-api"]),
    (
        "trowelogue-testkit",
        &["trowelogue-core", "trowelogue-journal", "trowelogue-store", "trowelogue-papers", "trowelogue-api"],
    ),
    ("trowelogue-tests", &["trowelogue-cli", "trowelogue-api", "trowelogue-testkit"]),
    ("xtask", &["trowelogue-cli", "trowelogue-api", "trowelogue-testkit"]),
];

/// Help for tests: any package's tests may use it, nothing that ships may.
const FOR_TESTS: &str = "trowelogue-testkit";

/// Libraries that only one package may bring in, itself or through another library.
const KEPT: [Kept; 2] = [
    Kept { families: &["tauri", "wry", "tao"], keeper: "trowelogue-app" },
    Kept { families: &["rusqlite", "libsqlite3-sys"], keeper: "trowelogue-store" },
];

struct Kept {
    families: &'static [&'static str],
    keeper: &'static str,
}

impl Kept {
    /// `tauri` and `tauri-utils`, but not `taurine`.
    fn covers(&self, package: &str) -> bool {
        self.families.iter().any(|family| {
            package.strip_prefix(family).is_some_and(|rest| rest.is_empty() || rest.starts_with('-'))
        })
    }
}

/// Asks cargo for the resolved graph and checks it.
///
/// # Errors
/// Every arrow that is not allowed, one a line.
pub(crate) fn check(checkout: &Checkout) -> Result<Tally, Failure> {
    let metadata = child::output(checkout.cargo(["metadata", "--format-version", "1", "--locked"]))?;
    let graph = Graph::read(&metadata)?;
    let faults = faults(&graph);
    if faults.is_empty() {
        say::note(format!("{} packages, no forbidden arrow", graph.members().count()));
        return Ok(Tally::default());
    }
    Err(Failure::new(faults.join("\n")))
}

/// What breaks the layout, in words.
fn faults(graph: &Graph) -> Vec<String> {
    let mut faults = strangers(graph);
    for (package, allowed) in ARROWS {
        let wrong = graph.edges(package).filter(|edge| !is_allowed(edge, allowed));
        faults.extend(
            wrong.map(|edge| format!("{package} depends on {}; allowed: [{}]", edge.to, allowed.join(", "))),
        );
    }
    for kept in &KEPT {
        let others = graph.members().filter(|member| *member != kept.keeper);
        faults.extend(others.filter_map(|member| smuggled(graph, member, kept)));
    }
    faults
}

fn is_allowed(edge: &Edge, allowed: &[&str]) -> bool {
    allowed.contains(&edge.to.as_str()) || (edge.to == FOR_TESTS && edge.only_in_tests)
}

/// Packages that the table does not know, or knows and are not there.
fn strangers(graph: &Graph) -> Vec<String> {
    let known = |name: &str| ARROWS.iter().any(|(package, _)| *package == name);
    let unknown = graph.members().filter(|member| !known(member));
    let gone = ARROWS.iter().filter(|(package, _)| !graph.members().any(|member| member == *package));
    unknown
        .map(|member| format!("{member} is a package the layout does not know"))
        .chain(gone.map(|(package, _)| format!("{package} of the layout is not in the workspace")))
        .collect()
}

fn smuggled(graph: &Graph, member: &str, kept: &Kept) -> Option<String> {
    let path = graph.path_outside(member, |package| kept.covers(package))?;
    Some(format!("only {} may bring in {}: {}", kept.keeper, kept.families[0], path.join(" -> ")))
}
