//! What the values of a form come to, while they are entered: dew point and margin, strength of a wash, film and
//! quantity of a coat. A sum that cannot be done yet, or not honestly, is left out.

use serde_json::{Map, Value};
use trowelogue_core::body::Kind;
use trowelogue_core::body::setup::Product;
use trowelogue_core::materials;
use trowelogue_core::sums::chemistry::Agent;
use trowelogue_core::sums::{air, coat, pot_life, wash};
use trowelogue_core::text::{Text, text};
use trowelogue_core::units::{self, Dimension, dimension_of_field};

use crate::dto::Fact;
use crate::format::{DEW_POINT, MARGIN};
use crate::session::Session;

const STRENGTH: Text = text("strength of the wash", "concentración del lavado");
const UNKNOWN_STRENGTH: Text =
    text("cannot tell: concentrate not known", "no se puede saber: concentrado desconocido");
const AMMONIA: Text = text("strength of the ammonia", "concentración del amoníaco");
const CALLED_FOR: Text = text("quantity called for, one coat", "cantidad prevista, una mano");
const WET_FILM: Text = text("wet film", "película húmeda");
const DRY_FILM: Text = text("dry film", "película seca");
const COVERED: Text = text("spreading rate", "rendimiento");
const POT_LIFE: Text = text("pot life in this air", "vida de la mezcla con este aire");

/// The sums over a body that may not be whole yet.
pub(super) fn of(session: &Session, kind: Kind, body: &Map<String, Value>) -> Vec<Fact> {
    let says = Says { session, body };
    match kind {
        Kind::Climate => says.air(),
        Kind::SealCoat => says.air().into_iter().chain(says.coat()).chain(says.pot_life()).collect(),
        Kind::Densify => says.coat(),
        Kind::AcidWash => says.acid().into_iter().collect(),
        Kind::Neutralise => says.ammonia().into_iter().collect(),
        _ => Vec::new(),
    }
}

/// The values of a form that may not be whole yet.
pub(super) struct Says<'a> {
    pub(super) session: &'a Session,
    pub(super) body: &'a Map<String, Value>,
}

impl Says<'_> {
    /// A number of the body in SI; as entered it may be a text with its unit.
    pub(super) fn number(&self, name: &str) -> Option<f64> {
        match self.body.get(name)? {
            Value::Number(number) => number.as_f64(),
            Value::String(text) => units::parse(text, dimension_of_field(name)?).ok(),
            _ => None,
        }
    }

    pub(super) fn text(&self, name: &str) -> Option<&str> {
        self.body.get(name)?.as_str()
    }

    pub(super) fn product(&self) -> Option<&Product> {
        let id = self.text("product")?.parse().ok()?;
        self.session.shop().products.get(&id).map(|it| it.now())
    }

    pub(super) fn fact(&self, label: Text, value: f64, dimension: Dimension) -> Fact {
        let voice = &self.session.voice;
        Fact { label: voice.say(label), value: units::show(value, dimension, voice.system, voice.lang) }
    }

    fn air(&self) -> Vec<Fact> {
        let (Some(air_c), Some(rh_pct)) = (self.number("air_c"), self.number("rh_pct")) else {
            return Vec::new();
        };
        let Ok(dew) = air::dew_point(air_c, rh_pct) else { return Vec::new() };
        let margin = self.number("surface_c").and_then(|surface| air::margin(air_c, rh_pct, surface).ok());
        let margin = margin.map(|it| self.fact(MARGIN, it.margin_k, Dimension::Kelvin));
        [self.fact(DEW_POINT, dew.dew_point_c, Dimension::Celsius)].into_iter().chain(margin).collect()
    }

    /// Strength of an acid wash, in mol/L; where the concentrate is not known, that is said.
    fn acid(&self) -> Option<Fact> {
        if self.text("concentrate_pct") == Some("unknown") {
            let voice = &self.session.voice;
            return Some(Fact { label: voice.say(STRENGTH), value: voice.say(UNKNOWN_STRENGTH) });
        }
        let agent = Agent::parse(self.text("acid")?).ok()?;
        self.diluted(STRENGTH, agent, "acid_parts")
    }

    fn ammonia(&self) -> Option<Fact> {
        let is_ammonia = self.text("agent") == Some(Agent::Ammonia.wire());
        is_ammonia.then(|| self.diluted(AMMONIA, Agent::Ammonia, "agent_parts")).flatten()
    }

    fn diluted(&self, label: Text, agent: Agent, parts: &str) -> Option<Fact> {
        let ratio = self.number("water_parts")? / self.number(parts)?;
        let strength = wash::diluted_mol_per_l(agent, self.number("concentrate_pct")?, None, ratio).ok()?;
        Some(self.fact(label, strength, Dimension::MolePerLitre))
    }

    /// What the area calls for, and what was laid.
    fn coat(&self) -> Vec<Fact> {
        let area = self.number("area_m2").filter(|area| *area > 0.0);
        let called = area
            .zip(self.spreading())
            .and_then(|(area, rate)| coat::quantity_to_buy_l(area, 1.0, rate, 0.0).ok());
        let called = called.map(|it| self.fact(CALLED_FOR, it, Dimension::Litre));
        called.into_iter().chain(self.film(area)).collect()
    }

    /// How far a litre of the product spreads, by its sheet or its class.
    pub(super) fn spreading(&self) -> Option<f64> {
        self.product().and_then(|it| it.coverage_m2_per_l.or(materials::of(it.class).coverage_m2_per_l))
    }

    fn film(&self, area: Option<f64>) -> Vec<Fact> {
        let (Some(area_m2), Some(quantity_l)) = (area, self.number("quantity_l")) else { return Vec::new() };
        let solids = self.product().and_then(|it| it.solids_pct.or(materials::of(it.class).solids_pct));
        let laid = coat::Coats {
            quantity_l,
            area_m2,
            solids_pct: solids.unwrap_or(100.0),
            coats: 1.0,
            thinner_pct: 0.0,
        };
        let Ok(film) = coat::film(&laid) else { return Vec::new() };
        let mut facts = vec![
            self.fact(COVERED, film.coverage_m2_per_l, Dimension::SquareMetrePerLitre),
            self.fact(WET_FILM, film.wet_film_um, Dimension::Micrometre),
        ];
        // Without the solids of the product there is no dry film to speak of.
        facts.extend(solids.map(|_| self.fact(DRY_FILM, film.dry_film_um, Dimension::Micrometre)));
        facts
    }

    /// Pot life of a two-part product in the air as read.
    fn pot_life(&self) -> Option<Fact> {
        let product = self.product()?;
        let class = materials::of(product.class);
        let minutes = product.pot_life_min.or(class.pot_life_min)?;
        let at_c = product.pot_life_at_c.or(class.pot_life_at_c)?;
        let now = pot_life::pot_life_min(minutes, at_c, self.number("air_c")?).ok()?;
        Some(self.fact(POT_LIFE, now, Dimension::Minute))
    }
}
