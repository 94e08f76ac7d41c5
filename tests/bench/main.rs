//! Benchmarks, run by `cargo xtask bench`: CPU time of the work that has a bound, beside a yardstick in the same
//! run on the same machine. No test reads a clock; these figures are for people.

#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

mod desk;
mod figure;
mod papers;
mod planner;
mod sweep;

fn main() {
    let wanted: Vec<String> = std::env::args().skip(1).filter(|it| !it.starts_with('-')).collect();
    if let [papers::MAKE, kind, place] = &wanted.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        return papers::make(kind, place);
    }
    let asked = |name: &str| wanted.is_empty() || wanted.iter().any(|it| name.contains(it.as_str()));
    figure::heading();
    let all: [(&str, fn()); 4] =
        [("planner", planner::run), ("sweep", sweep::run), ("desk", desk::run), ("papers", papers::run)];
    for (name, run) in all {
        if asked(name) {
            run();
        }
    }
}
