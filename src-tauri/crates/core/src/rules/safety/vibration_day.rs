//! `vibration-day`

use chrono::NaiveDate;

use crate::body::setup::{Power, Tool};
use crate::body::surface::GritPass;
use crate::id::ObjectId;
use crate::rules::finding::FactValue;
use crate::rules::grinding::is_cut;
use crate::rules::prelude::*;
use crate::shop::{Shop, Versions};
use crate::sums::vibration::{Use, exposure};

pub(crate) static RULE: Rule = Rule {
    code: "vibration-day",
    title: text(
        "Nobody's hands take more vibration in a day than the limit value",
        "Las manos de nadie reciben en un día más vibración que el valor límite",
    ),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::Published(text(
        "Directive 2002/44/EC, article 3; guidance outside the European Union",
        "Directiva 2002/44/CE, artículo 3; orientación fuera de la Unión Europea",
    )),
    why: text(
        "Years of vibrating tools numb the fingers and turn them white in the cold, and it does not heal. What counts is the whole day of one person, over all tools and pieces.",
        "Años de herramientas vibrantes duermen los dedos y los vuelven blancos con el frío, y no se cura. Cuenta el día entero de una persona, con todas las herramientas y piezas.",
    ),
    remedy: text(
        "Change hands over the day, take the tool with less vibration, mend or change worn discs and mounts; above the action value the work is planned anew. Local law and the maker's figures govern.",
        "Repartir el trabajo entre varios, tomar la herramienta que vibre menos, cambiar discos y soportes gastados; por encima del valor de acción se replantea el trabajo. Rigen la ley local y los datos del fabricante.",
    ),
    looks: &[Look::Shop(check)],
};

/// One person's day at machines.
#[derive(Default)]
struct Day<'a> {
    steps: Vec<&'a Step>,
    uses: Vec<Use>,
    /// Minutes with tools whose vibration nobody recorded.
    unmeasured_min: f64,
    /// Passes whose minutes nobody recorded.
    untimed: usize,
}

fn check(shop: &Shop, reach: &Reach<'_>) -> Looked {
    let day_of = |step: &Step| {
        let pass = step.body().and_then(view::grit_pass)?;
        is_machine(pass, tool_of(shop, pass)).then(|| (step.done.start.date_naive(), step.person))
    };
    let days = reach.groups(shop.of_kind(Kind::GritPass), day_of, |day: &mut Day<'_>, step| {
        if let Some(pass) = step.body().and_then(view::grit_pass) {
            day.take(step, pass, tool_of(shop, pass));
        }
    });
    Looked::at(&days, reach, |day| &day.steps, |(day, person), it| it.judge(shop, *day, *person))
}

fn tool_of<'a>(shop: &'a Shop, pass: &GritPass) -> Option<&'a Tool> {
    pass.tool.and_then(|id| shop.tools.get(&id)).map(Versions::now)
}

fn is_machine(pass: &GritPass, tool: Option<&Tool>) -> bool {
    match pass.power.or(tool.map(|it| it.power)) {
        Some(power) => power != Power::Hand,
        None => is_cut(pass),
    }
}

impl<'a> Day<'a> {
    fn take(&mut self, step: &'a Step, pass: &GritPass, tool: Option<&Tool>) {
        self.steps.push(step);
        let timed = || step.done.end.map(|end| hours_between(step.done.start, end) * 60.0);
        match (pass.minutes_min.or_else(timed), tool.and_then(|it| it.vibration_ms2)) {
            (Some(minutes), Some(vibration_ms2)) => self.uses.push(Use { vibration_ms2, minutes }),
            (Some(minutes), None) => self.unmeasured_min += minutes,
            (None, _) => self.untimed += 1,
        }
    }

    fn judge(&self, shop: &Shop, day: NaiveDate, person: ObjectId) -> Option<Hit> {
        let mut facts = vec![
            said(text("person", "persona"), &shop.person_name(person)),
            Fact::new(text("day", "día"), FactValue::Day(day)),
        ];
        let known = exposure(&self.uses).ok();
        facts.extend(known.as_ref().map(|it| {
            number(text("vibration A(8)", "vibración A(8)"), it.a8_ms2, Dimension::MetrePerSecondSquared)
        }));
        let steps = || self.steps.iter().copied();
        match known {
            Some(it) if it.limit_reached => {
                facts.push(limits::VIBRATION_LIMIT.fact());
                Some(Hit::violated(steps(), facts))
            }
            Some(it) if it.action_reached => {
                facts.push(limits::VIBRATION_ACTION.fact());
                Some(Hit::violated(steps(), facts).weighing(Severity::Caution))
            }
            _ => {
                facts.extend(self.unsaid()?);
                Some(Hit::cannot_tell(steps(), facts))
            }
        }
    }

    /// What is missing for a judgement, where it may have been long enough to matter: short work of unknown
    /// vibration is not asked about.
    fn unsaid(&self) -> Option<Vec<Fact>> {
        let asked = limits::VIBRATION_ASK.value;
        let over_the_day = || {
            let first = self.steps.iter().map(|step| step.done.start).min()?;
            let last = self.steps.iter().map(|step| step.done.finish()).max()?;
            Some(hours_between(first, last) * 60.0)
        };
        let untimed = self.untimed > 0 && over_the_day().is_some_and(|minutes| minutes >= asked);
        if self.unmeasured_min < asked && !untimed {
            return None;
        }
        let mut facts = Vec::new();
        if self.unmeasured_min > 0.0 {
            let name = text(
                "minutes with tools of unknown vibration",
                "minutos con útiles de vibración desconocida",
            );
            facts.push(number(name, self.unmeasured_min, Dimension::Minute));
        }
        if untimed {
            facts.push(count(text("passes without minutes", "pasadas sin minutos"), self.untimed as f64, 0));
        }
        Some(facts)
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{Finding, State, Verdict, check_shop};

    fn bench() -> Bench {
        let mut bench = Bench::poured();
        // 5 m/s² reach the action value in 2 h and the limit value in 8 h (the points of HSE's ready-reckoner).
        bench.object(
            "tool",
            "grinder",
            json!({ "name": "Grinder", "power": "electric", "vibration_ms2": 5 }),
        );
        bench
    }

    fn ground(minutes: f64) -> serde_json::Value {
        with(pass(100), json!({ "tool": id("grinder"), "minutes_min": minutes }))
    }

    fn found(bench: &Bench) -> Vec<Finding> {
        check_shop(&bench.shop()).into_iter().filter(|it| *it.rule == RULE).collect()
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = bench();
        bench.step(96.0, "grit_pass", ground(119.9));
        bench.step(120.0, "grit_pass", ground(119.9));
        bench.step(120.5, "grit_pass", hand_paper(400));
        assert_eq!(found(&bench), [], "each day by itself");
    }

    #[test]
    pub(crate) fn violated() {
        for (minutes, severity) in
            [(60.0, Severity::Caution), (239.9, Severity::Caution), (240.0, Severity::Stop)]
        {
            let mut bench = bench();
            let first = bench.step(96.0, "grit_pass", ground(minutes));
            let second = bench.step(101.0, "grit_pass", ground(minutes));
            let found = found(&bench);
            assert_eq!(found.len(), 1, "{minutes}");
            assert_eq!((found[0].verdict, found[0].severity), (Verdict::Violated, severity), "{minutes}");
            assert_eq!((found[0].piece, &found[0].entries[..]), (None, &[first, second][..]));
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let unmeasured = |minutes: f64| with(pass(100), json!({ "minutes_min": minutes }));
        for (minutes, told) in [(119.9, false), (120.0, true)] {
            let mut bench = bench();
            bench.step(96.0, "grit_pass", unmeasured(minutes));
            let verdicts: Vec<_> = found(&bench).iter().map(|it| it.verdict).collect();
            assert_eq!(verdicts == [Verdict::CannotTell], told, "{minutes}");
        }
        for (hours, told) in [(97.9, false), (98.0, true)] {
            let mut bench = bench();
            bench.step(96.0, "grit_pass", pass(100));
            bench.step(hours, "grit_pass", pass(200));
            assert_eq!(!found(&bench).is_empty(), told, "{hours}");
        }
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = bench();
        let ground = bench.step(96.0, "grit_pass", ground(300.0));
        let body = json!({ "rule": RULE.code, "accepted_by": "Owner", "why": "two people, one booked" });
        let exception = bench.about(300.0, "exception", &[ground], body);
        assert_eq!(found(&bench)[0].state, State::Accepted(exception));
    }
}
