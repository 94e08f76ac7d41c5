//! `coat-near-dew-point`

use super::{climate_of, product_of};
use crate::rules::prelude::*;
use crate::sums::air::margin;

pub(crate) static RULE: Rule = Rule {
    code: "coat-near-dew-point",
    title: text(
        "At the start of every coat the surface is well above the dew point",
        "Al empezar cada mano la superficie está bien por encima del punto de rocío",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::Unconfirmed(text(
        "ISO 8502-4 and ISO 12944-7, a rule for steel, here applied to concrete",
        "ISO 8502-4 e ISO 12944-7, regla para acero aplicada aquí al hormigón",
    )),
    why: text(
        "Close to the dew point a film of water settles on the face before the coat does: it blushes white, stays soft, and peels later.",
        "Cerca del punto de rocío se posa una película de agua antes que la mano: blanquea, queda blanda y luego se despega.",
    ),
    remedy: text(
        "Warm the piece, dry the air, or wait, and read air and surface again just before the coat.",
        "Templar la pieza, secar el aire o esperar, y leer de nuevo aire y superficie justo antes de la mano.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat], judge)],
};

const MARGIN: Text = text("margin over the dew point", "margen sobre el punto de rocío");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let coat = subject.read(view::seal_coat);
    let sheet = product_of(past, coat, subject).and_then(|(product, _)| product.dew_margin_k);
    let limit = match sheet {
        Some(value) => Applied { value, source: limits::Source::DataSheet },
        None => Applied::setting(past.case.shop.settings.dew_margin_k, &limits::DEW_MARGIN),
    };
    let Some((steps, [air_c, rh_pct, surface_c])) = climate_of(past, subject) else { return Vec::new() };
    let mut facts = vec![
        number(text("air", "aire"), air_c, Dimension::Celsius),
        number(text("humidity", "humedad"), rh_pct, Dimension::Percent),
        number(text("surface", "superficie"), surface_c, Dimension::Celsius),
    ];
    let Ok(margin) = margin(air_c, rh_pct, surface_c) else {
        facts.push(missing(MARGIN));
        return vec![Hit::cannot_tell(steps, facts)];
    };
    if margin.margin_k >= limit.value {
        return Vec::new();
    }
    facts.push(number(text("dew point", "punto de rocío"), margin.dew.dew_point_c, Dimension::Celsius));
    facts.push(number(MARGIN, margin.margin_k, Dimension::Kelvin));
    facts.extend(limit.facts(text("margin asked for", "margen pedido"), Dimension::Kelvin));
    vec![Hit::violated(steps, facts)]
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn in_air(air: f64, rh: f64, surface: f64) -> serde_json::Value {
        with(coat(1), json!({ "air_c": air, "rh_pct": rh, "surface_c": surface }))
    }

    #[test]
    pub(crate) fn clear() {
        // PsychroLib 2.5.0: 25 °C and 70 % have their dew point at 19.15 °C; 22.5 °C is 3.35 K above.
        let mut bench = Bench::poured();
        bench.step(100.0, "seal_coat", in_air(25.0, 70.0, 22.5));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        // PsychroLib 2.5.0: 20 °C, 80 %, surface 18 °C: margin 1.55 K. 10 °C, 85 %, surface 10.5 °C: 2.90 K,
        // which passes a rule of 5 °F (2.78 K) and fails one of 3 K.
        for body in [in_air(20.0, 80.0, 18.0), in_air(10.0, 85.0, 10.5)] {
            let mut bench = Bench::poured();
            let coated = bench.step(100.0, "seal_coat", body);
            bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[coated]]);
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let coated = bench.step(100.0, "seal_coat", in_air(20.0, 0.0, 18.0));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "seal_coat", in_air(20.0, 80.0, 18.0));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn the_sheet_beats_the_shop_and_the_shop_the_default() {
        // Margin 3.35 K.
        let body = || in_air(25.0, 70.0, 22.5);
        let mut shop = Bench::poured();
        shop.settings(json!({ "dew_margin_k": 4 }));
        shop.step(100.0, "seal_coat", body());
        shop.expect_violated(&RULE);
        let mut sheet = Bench::poured();
        sheet.settings(json!({ "dew_margin_k": 4 }));
        sheet.product("sealer", json!({ "class": "reactive_sealer", "dew_margin_k": 3 }));
        sheet.step(100.0, "seal_coat", body());
        sheet.expect_clear(&RULE);
    }

    #[test]
    fn a_planned_coat_goes_by_a_fresh_reading_only() {
        let mut bench = Bench::poured();
        bench.step(100.0, "climate", json!({ "air_c": 20, "rh_pct": 80, "surface_c": 18 }));
        assert_eq!(bench.gate(&RULE, 102.0, "seal_coat", &coat(1)).unwrap().state, GateState::Blocked);
        assert_eq!(bench.gate(&RULE, 102.1, "seal_coat", &coat(1)), None);
    }
}
