//! Values as people read them: language, units, dates. The one place where a stored value becomes words.

mod body;
mod names;
mod when;

pub(crate) use body::{DEW_POINT, MARGIN, facts_of, facts_of_values, label_of, note_of};
pub(crate) use names::{Table, name_of, piece_code};
pub(crate) use trowelogue_core::body::shape::{Shape, fields_of};

use chrono_tz::Tz;
use trowelogue_core::rules::{self, FactValue};
use trowelogue_core::shop::Shop;
use trowelogue_core::text::{Lang, Text, text};
use trowelogue_core::units::{self, System};

use crate::dto::Fact;

/// How somebody reads: language, units, and the zone times are shown in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Voice {
    /// The language.
    pub lang: Lang,
    /// The units.
    pub system: System,
    /// The shop's zone; without one a time is shown with the offset it was written with.
    pub zone: Option<Tz>,
}

pub(crate) const NOT_RECORDED: Text = text("not recorded", "no consta");
const YES: Text = text("yes", "sí");
const NO: Text = text("no", "no");

impl Voice {
    /// The words in the reader's language.
    pub(crate) fn say(&self, words: Text) -> String {
        words.get(self.lang).to_owned()
    }

    pub(crate) fn yes_no(&self, yes: bool) -> String {
        self.say(if yes { YES } else { NO })
    }

    /// A number with no unit of its own, with as many decimals as it has, at most four.
    pub(crate) fn plain(&self, value: f64) -> String {
        let decimals = (0..4).find(|n| {
            let scale = 10_f64.powi(*n);
            (value * scale - (value * scale).round()).abs() < 1e-6
        });
        units::number(value, usize::try_from(decimals.unwrap_or(4)).unwrap_or(4), self.lang)
    }

    /// What a finding or a gate rests on.
    pub(crate) fn facts(&self, facts: &[rules::Fact]) -> Vec<Fact> {
        let shown = |fact: &rules::Fact| Fact { label: self.say(fact.name), value: self.fact(&fact.value) };
        facts.iter().map(shown).collect()
    }

    /// The same in a line: `evidence: cylinder break; strength: 17.5 MPa`.
    pub(crate) fn facts_in_a_line(&self, facts: &[rules::Fact]) -> String {
        let each = self.facts(facts).into_iter().map(|it| format!("{}: {}", it.label, it.value));
        each.collect::<Vec<_>>().join("; ")
    }

    fn fact(&self, value: &FactValue) -> String {
        match value {
            FactValue::Number(number, dimension) => units::show(*number, *dimension, self.system, self.lang),
            FactValue::Count(number, decimals) => units::number(*number, *decimals, self.lang),
            FactValue::Word(words) => self.say(*words),
            FactValue::Said(words) => words.clone(),
            FactValue::When(moment) => self.moment(moment),
            FactValue::Day(day) => self.day(*day),
            FactValue::Missing => self.say(NOT_RECORDED),
        }
    }
}

/// The zone a shop has named, if it is one of the compiled-in ones.
pub(crate) fn zone_of(shop: &Shop) -> Option<Tz> {
    shop.settings.zone.as_deref().and_then(|name| name.parse().ok())
}
