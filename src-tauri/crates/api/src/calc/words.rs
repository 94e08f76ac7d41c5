//! Results of sums in words: each key of the machine form with its label and its value in the reader's units.

use serde_json::{Map, Value};
use trowelogue_core::moment;
use trowelogue_core::text::{Text, text};
use trowelogue_core::units;

use crate::dto::Fact;
use crate::format::Voice;

/// Labels of the keys, without their unit. A key that is not listed is shown as it is written.
const LABELS: [(&str, Text); 71] = [
    ("a8_ms2", text("daily exposure A(8)", "exposición diaria A(8)")),
    ("absolute_humidity_g_per_m3", text("water in the air", "agua en el aire")),
    ("action_reached", text("action value reached", "valor de acción alcanzado")),
    ("added_kg", text("added", "añadido")),
    ("agent", text("agent", "agente")),
    ("air_c", text("air", "aire")),
    (
        "ammonia_5_pct_ml_per_l",
        text(
            "household ammonia of 5 % to neutralize a liter",
            "amoníaco doméstico al 5 % para neutralizar un litro",
        ),
    ),
    ("area_m2", text("area", "superficie")),
    ("assume_c", text("assumed from the last reading on", "supuesta desde la última lectura")),
    ("at_c", text("at", "a")),
    ("at_least_mpa", text("at least", "al menos")),
    ("band_mpa", text("90 % band", "banda del 90 %")),
    ("breaks", text("breaks", "roturas")),
    (
        "ca_oh2_g_per_l",
        text("calcium hydroxide a liter dissolves", "hidróxido de calcio que disuelve un litro"),
    ),
    (
        "caco3_g_per_l",
        text("calcium carbonate a liter dissolves", "carbonato de calcio que disuelve un litro"),
    ),
    ("co2_l_per_l", text("carbon dioxide set free a liter", "dióxido de carbono liberado por litro")),
    ("coats", text("coats", "manos")),
    (
        "coldest_surface_c",
        text("coldest surface with the usual margin", "superficie más fría con el margen habitual"),
    ),
    ("concentrate_l", text("concentrate", "concentrado")),
    ("concentrate_pct", text("strength of the concentrate", "riqueza del concentrado")),
    ("control", text("dust control", "control del polvo")),
    ("coverage_m2_per_l", text("coverage in one coat", "rendimiento en una mano")),
    ("cut_outs_m2", text("cut-outs", "huecos")),
    ("datum_c", text("datum temperature", "temperatura de base")),
    ("density_kg_per_l", text("density of the concentrate", "densidad del concentrado")),
    ("density_kgm3", text("density", "densidad")),
    ("dew_point_c", text("dew point", "punto de rocío")),
    ("dry_film_um", text("dry film per coat", "película seca por mano")),
    ("elapsed_h", text("time between first and last reading", "tiempo entre la primera y la última lectura")),
    ("equivalent_age_h", text("equivalent age", "edad equivalente")),
    ("fit", text("curve", "curva")),
    ("form", text("form of the curve", "forma de la curva")),
    ("from", text("from", "de")),
    ("gaps", text("stretches without readings", "tramos sin lecturas")),
    ("gate_mpa", text("strength asked for", "resistencia pedida")),
    ("gates", text("strengths asked for", "resistencias pedidas")),
    (
        "hint_apf",
        text("protection factor a building site would need", "factor de protección que pediría una obra"),
    ),
    ("hint_row", text("row a building site would follow", "fila que seguiría una obra")),
    ("hours", text("hours in the shift", "horas en el turno")),
    ("in_table", text("in the table", "en la tabla")),
    ("length_mm", text("length", "largo")),
    ("limit_reached", text("limit value reached", "valor límite alcanzado")),
    ("margin_k", text("margin over dew point", "margen sobre el punto de rocío")),
    ("mass_kg", text("mass", "masa")),
    ("minutes", text("pot life in minutes", "vida útil en minutos")),
    (
        "na2co3_g_per_l",
        text("sodium carbonate to neutralize a liter", "carbonato sódico para neutralizar un litro"),
    ),
    (
        "nahco3_g_per_l",
        text("sodium bicarbonate to neutralize a liter", "bicarbonato sódico para neutralizar un litro"),
    ),
    ("next_break_mpa", text("where one more break would fall, 90 %", "dónde caería una rotura más, 90 %")),
    ("now_c", text("now", "ahora")),
    ("over", text("over", "sobre")),
    ("particle_um", text("particle sizes in µm", "tamaños de grano en µm")),
    ("per_person_kg", text("per person", "por persona")),
    ("persons", text("persons", "personas")),
    ("ph_estimate", text("pH, estimated", "pH estimado")),
    ("place", text("place", "lugar")),
    ("points", text("exposure points", "puntos de exposición")),
    ("quantity_l", text("quantity for all coats", "cantidad para todas las manos")),
    ("ratio", text("water to one of concentrate", "agua por uno de concentrado")),
    ("respirator_apf", text("protection factor of the respirator", "factor de protección de la mascarilla")),
    ("rh_at_surface_pct", text("humidity at the surface", "humedad en la superficie")),
    ("rh_pct", text("relative humidity", "humedad relativa")),
    ("scale", text("scale", "escala")),
    ("size_ratios", text("size ratios", "razones de tamaño")),
    ("steps", text("steps", "pasos")),
    ("strength_mol_per_l", text("strength", "concentración")),
    ("strength_mpa", text("strength", "resistencia")),
    ("temperature_time_c_h", text("temperature-time factor", "factor temperatura-tiempo")),
    ("total_dry_film_um", text("dry film of all coats", "película seca de todas las manos")),
    ("water_l", text("water", "agua")),
    ("wet_film_um", text("wet film per coat", "película húmeda por mano")),
    ("width_mm", text("width", "ancho")),
];

const NONE: Text = text("cannot be said", "no se puede decir");

/// The values of a map, each with its label.
pub(super) fn facts(voice: &Voice, map: &Map<String, Value>) -> Vec<Fact> {
    map.iter()
        .map(|(name, value)| Fact { label: label(voice, name), value: show(voice, name, value) })
        .collect()
}

fn label(voice: &Voice, name: &str) -> String {
    let listed = LABELS.iter().find(|(it, _)| *it == name);
    listed.map_or_else(|| name.replace('_', " "), |(_, words)| voice.say(*words))
}

fn show(voice: &Voice, name: &str, value: &Value) -> String {
    match value {
        Value::Null => voice.say(NONE),
        Value::Bool(yes) => voice.yes_no(*yes),
        Value::Number(number) => number_words(voice, name, number.as_f64().unwrap_or(f64::NAN)),
        Value::String(said) => moment::parse(said).map_or_else(|_| said.clone(), |it| voice.moment(&it)),
        Value::Array(items) => items.iter().map(|it| show(voice, name, it)).collect::<Vec<_>>().join("; "),
        Value::Object(map) => {
            let parts = facts(voice, map).into_iter().map(|fact| format!("{} {}", fact.label, fact.value));
            parts.collect::<Vec<_>>().join(", ")
        }
    }
}

fn number_words(voice: &Voice, name: &str, number: f64) -> String {
    match units::dimension_of_field(name) {
        Some(dimension) => units::show(number, dimension, voice.system, voice.lang),
        None => voice.plain(number),
    }
}
