//! The shop's objects: settings, people, clients, jobs, pieces, mixes, products, tools, routes.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::common::{Answer, Known};
use crate::id::ObjectId;
use crate::routes::WrittenRoute;

choices! {
    /// Where a piece is used; it decides the care sheet.
    pub enum Use {
        Kitchen = "kitchen": "kitchen", "cocina";
        Bath = "bath": "bath", "baño";
        Wall = "wall": "wall", "pared";
        Floor = "floor": "floor", "suelo";
        Outdoor = "outdoor": "outdoors", "exterior";
        Hearth = "hearth": "hearth", "chimenea";
    }

    /// How an edge of a piece meets the room.
    pub enum Side {
        Front = "front": "front", "frente";
        Back = "back": "back", "fondo";
        Left = "left": "left", "izquierda";
        Right = "right": "right", "derecha";
    }

    /// The face is open (ground, acid washed) or kept as cast.
    pub enum FinishKind {
        AsCast = "as_cast": "as cast", "como sale del molde";
        Washed = "washed": "acid washed", "lavado con ácido";
        Honed = "honed": "honed", "apomazado";
        SaltPepper = "salt_pepper": "salt and pepper", "sal y pimienta";
        Aggregate = "aggregate": "exposed aggregate", "árido visto";
        Glass = "glass": "exposed glass", "vidrio visto";
        Pressed = "pressed": "pressed or open texture", "prensado o de textura abierta";
        Trowelled = "trowelled": "troweled", "fratasado";
        Floor = "floor": "ground floor", "suelo pulido";
    }

    /// The stone in a mix, as far as acid and grinding care.
    pub enum Aggregate {
        Siliceous = "siliceous": "siliceous sand or stone", "arena o piedra silícea";
        Basalt = "basalt": "basalt or granite", "basalto o granito";
        Limestone = "limestone": "limestone", "caliza";
        Marble = "marble": "marble", "mármol";
        Dolomite = "dolomite": "dolomite", "dolomía";
        Shell = "shell": "shell", "conchas";
        Glass = "glass": "glass", "vidrio";
        Light = "light": "lightweight aggregate", "árido ligero";
    }

    /// Material classes: what a product is, as far as the rules and the care sheet care.
    pub enum MaterialClass {
        NeutralCleaner = "neutral_cleaner": "neutral cleaner", "limpiador neutro";
        AlkalineDegreaser = "alkaline_degreaser": "alkaline degreaser", "desengrasante alcalino";
        HydrochloricAcid = "hydrochloric_acid": "hydrochloric acid", "ácido clorhídrico";
        SulfamicAcid = "sulfamic_acid": "sulfamic acid", "ácido sulfámico";
        PhosphoricAcid = "phosphoric_acid": "phosphoric acid", "ácido fosfórico";
        CitricAcid = "citric_acid": "citric acid", "ácido cítrico";
        FluorideCleaner = "fluoride_cleaner": "cleaner with fluoride", "limpiador con fluoruro";
        Ammonia = "ammonia": "ammonia", "amoníaco";
        Bicarbonate = "bicarbonate": "sodium bicarbonate", "bicarbonato sódico";
        Hypochlorite = "hypochlorite": "chlorine bleach", "lejía";
        ReactiveSealer = "reactive_sealer": "reactive penetrating sealer", "sellador penetrante reactivo";
        SilicateDensifier = "silicate_densifier": "silicate densifier", "densificador de silicato";
        SilaneRepellent = "silane_repellent": "silane/siloxane repellent", "hidrofugante de silano/siloxano";
        AcrylicFilm = "acrylic_film": "acrylic film", "película acrílica";
        WaterborneUrethane = "waterborne_urethane": "two-part water-borne polyurethane", "poliuretano al agua de dos componentes";
        SolventUrethane = "solvent_urethane": "solvent polyurethane", "poliuretano al disolvente";
        Epoxy = "epoxy": "epoxy", "epoxi";
        Polyaspartic = "polyaspartic": "polyaspartic", "poliaspártico";
        UvCured = "uv_cured": "UV-cured coating", "recubrimiento de curado UV";
        Wax = "wax": "maintenance wax", "cera de mantenimiento";
        CementFill = "cement_fill": "cement slurry for filling", "lechada de cemento para relleno";
        ResinFill = "resin_fill": "resin for filling", "resina para relleno";
        Pigment = "pigment": "pigment", "pigmento";
        Admixture = "admixture": "admixture", "aditivo";
        Cement = "cement": "cement", "cemento";
        Sand = "sand": "sand or aggregate", "arena o árido";
        Adhesive = "adhesive": "adhesive", "adhesivo";
        Sealant = "sealant": "joint sealant", "sellante de juntas";
        Release = "release": "form release", "desencofrante";
    }

    /// What a tool is driven by.
    pub enum Power {
        Electric = "electric": "mains electric", "eléctrica de red";
        Battery = "battery": "battery", "batería";
        Air = "air": "compressed air", "aire comprimido";
        Hand = "hand": "by hand", "a mano";
    }

    /// Which sheet a document is.
    pub enum SheetKind {
        DataSheet = "data_sheet": "technical data sheet", "ficha técnica";
        SafetySheet = "safety_sheet": "safety data sheet", "ficha de datos de seguridad";
    }
}

bodies! {
    /// The shop's settings. A field left out keeps its former value; the shipped default stands until one is given.
    pub struct Settings {
        /// Name of the time zone (IANA) for future dates and display.
        pub zone: Option<String>,
        /// Units of screen and paper.
        pub units: Option<crate::units::System>,
        /// Hours after which an entry counts as written late. Default 24.
        pub late_after_h: Option<f64>,
        /// Relative humidity above which drying needs a longer wait, in per cent. Default 60.
        pub dry_rh_max_pct: Option<f64>,
        /// Smallest margin of surface over dew point at a coat, in kelvin. Default 3.
        pub dew_margin_k: Option<f64>,
        /// Mass one person may lift, in kilograms. Default 25.
        pub lift_per_person_kg: Option<f64>,
        /// Hours a shift lasts for safety confirmations. Default 12.
        pub shift_h: Option<f64>,
        /// Shortest age before a piece is lifted where no strength is known, in hours.
        pub lift_min_age_h: Option<f64>,
        /// Compressive strength before a piece is lifted, as cylinders, in MPa. Default 13.8.
        pub lift_strength_mpa: Option<f64>,
        /// Flexural strength before a piece with fibre is lifted, in MPa. No default: the designer gives it.
        pub lift_flexural_mpa: Option<f64>,
        /// Warranty terms in brief, printed on the care sheet.
        pub warranty_brief: Option<String>,
        /// Warranty length in months from handover.
        pub warranty_months: Option<u32>,
        /// Whom a client calls.
        pub contact: Option<String>,
        /// The shop's address lines as they stand on papers.
        pub address: Option<String>,
        /// Whether the position in photos is kept. Default no.
        pub keep_photo_position: Option<bool>,
    }

    /// A person who does or accepts work.
    pub struct Person {
        /// The name people use.
        pub name: String,
        /// What the person does.
        pub trade: Option<String>,
        /// How to reach the person.
        pub contact: Option<String>,
    }

    /// A client.
    pub struct Client {
        /// Name.
        pub name: String,
        /// Address.
        pub address: Option<String>,
        /// Telephone or e-mail.
        pub contact: Option<String>,
        /// Language of papers: `en` or `es`.
        pub lang: Option<crate::text::Lang>,
    }

    /// The work for one client at one site.
    pub struct Job {
        /// The code people use.
        pub code: String,
        /// Name.
        pub name: String,
        /// The client.
        pub client: Option<ObjectId>,
        /// The site's address.
        pub site: Option<String>,
        /// The day of handover agreed on.
        pub handover_by: Option<NaiveDate>,
        /// Finish agreed on, in words.
        pub finish: Option<String>,
        /// Sealing agreed on, in words.
        pub sealing: Option<String>,
        /// Warranty terms of this job where they differ from the shop's.
        pub warranty: Option<String>,
    }

    /// A cut-out, measured from the front left corner of the plan.
    pub struct CutOut {
        /// What it is for.
        pub purpose: Option<String>,
        /// Left edge from the piece's left, in mm.
        pub x_mm: f64,
        /// Front edge from the piece's front, in mm.
        pub y_mm: f64,
        /// Along the length, in mm; the diameter of a round one.
        pub length_mm: f64,
        /// Along the width, in mm; left out for a round one.
        pub width_mm: Option<f64>,
    }

    /// A corner of a plan outline.
    pub struct PlanPoint {
        /// From the left, in mm.
        pub x_mm: f64,
        /// From the front, in mm.
        pub y_mm: f64,
    }

    /// One cast element.
    pub struct Piece {
        /// The code people use; it stands on the label.
        pub code: String,
        /// Name.
        pub name: String,
        /// The job it belongs to.
        pub job: Option<ObjectId>,
        /// Length of the plan, in mm.
        pub length_mm: Option<f64>,
        /// Width of the plan, in mm.
        pub width_mm: Option<f64>,
        /// Thickness, in mm.
        pub thickness_mm: Option<f64>,
        /// Plan outline where it is not a rectangle, corner by corner.
        pub outline: Option<Vec<PlanPoint>>,
        /// Cut-outs.
        pub cut_outs: Option<Vec<CutOut>>,
        /// Edges that show.
        pub finished_edges: Option<Vec<Side>>,
        /// The mix.
        pub mix: Option<ObjectId>,
        /// A second mix poured in as a vein or inlay.
        pub vein_mix: Option<ObjectId>,
        /// The finish aimed at.
        pub finish: Option<FinishKind>,
        /// Where it is used.
        #[serde(rename = "use")]
        pub used_as: Option<Use>,
        /// Basin or curve, where a rigid backer does not fit.
        pub curved: Option<bool>,
        /// Metal cast in or near: galvanised, aluminium, stainless.
        pub metal_near: Option<Answer>,
        /// The pour it is a retained witness of.
        pub witness_of: Option<ObjectId>,
        /// Where a retained witness is kept.
        pub kept_at: Option<String>,
    }

    /// A mix.
    pub struct Mix {
        /// Name.
        pub name: String,
        /// Stone and sand in it.
        pub aggregates: Vec<Aggregate>,
        /// Water/cement ratio by mass.
        pub water_cement: Option<f64>,
        /// Fibre by mass of mix, in per cent.
        pub fibre_pct: Option<f64>,
        /// The pozzolan, in words.
        pub pozzolan: Option<String>,
        /// Pozzolan by mass of cement, in per cent.
        pub pozzolan_pct: Option<f64>,
        /// Glass by mass of aggregate, in per cent.
        pub glass_pct: Option<f64>,
        /// Density when hardened, in kg/m³.
        pub density_kgm3: Option<f64>,
        /// Strength aimed at, as cylinders, in MPa.
        pub aim_mpa: Option<f64>,
        /// Silica fume or another reason why acid bites less.
        pub dense: Option<bool>,
    }

    /// A sheet of a product, by file hash.
    pub struct Sheet {
        /// Which sheet.
        pub sheet: SheetKind,
        /// Revision as printed.
        pub revision: String,
        /// Date as printed.
        pub dated: Option<NaiveDate>,
        /// SHA-256 of the file.
        pub file: Option<crate::id::Hash>,
    }

    /// A product with the limits of its data sheet. A limit given here always beats the class default.
    pub struct Product {
        /// The shop's name for it.
        pub name: String,
        /// What it is.
        pub class: MaterialClass,
        /// Maker, as the shop calls it.
        pub maker: Option<String>,
        /// Data sheet and safety data sheet in force.
        pub sheets: Option<Vec<Sheet>>,
        /// Needs an opened face.
        pub needs_bite: Option<bool>,
        /// Finest last grit before it.
        pub finest_last_grit: Option<f64>,
        /// Shortest drying before it, in hours.
        pub dry_before_h: Option<f64>,
        /// Youngest concrete it may go on, in days.
        pub min_age_d: Option<f64>,
        /// Lowest air temperature, in °C.
        pub air_min_c: Option<f64>,
        /// Highest air temperature, in °C.
        pub air_max_c: Option<f64>,
        /// Lowest surface temperature, in °C.
        pub surface_min_c: Option<f64>,
        /// Highest surface temperature, in °C.
        pub surface_max_c: Option<f64>,
        /// Highest relative humidity of the air, in per cent.
        pub rh_max_pct: Option<f64>,
        /// Lowest relative humidity of the air, in per cent.
        pub rh_min_pct: Option<f64>,
        /// Smallest margin over dew point, in kelvin.
        pub dew_margin_k: Option<f64>,
        /// Highest pH of the face.
        pub ph_max: Option<f64>,
        /// Number of coats.
        pub coats: Option<u32>,
        /// Spreading rate per coat, in m²/L.
        pub coverage_m2_per_l: Option<f64>,
        /// Earliest next coat, in hours.
        pub recoat_min_h: Option<f64>,
        /// Latest next coat without abrading, in hours.
        pub recoat_max_h: Option<f64>,
        /// Pot life, in minutes, at `pot_life_at_c`.
        pub pot_life_min: Option<f64>,
        /// Temperature the pot life is given for, in °C.
        pub pot_life_at_c: Option<f64>,
        /// Volume solids, in per cent.
        pub solids_pct: Option<f64>,
        /// Hours until it may be handled.
        pub handle_h: Option<f64>,
        /// Hours until it may be wrapped, breathable.
        pub wrap_h: Option<f64>,
        /// Hours until first water.
        pub water_h: Option<f64>,
        /// Hours until light use.
        pub light_use_h: Option<f64>,
        /// Hours until full use.
        pub full_use_h: Option<f64>,
        /// Highest temperature in use, in °C.
        pub heat_max_c: Option<f64>,
        /// Hours until a fill of it is hard enough for the next pass.
        pub fill_cure_h: Option<f64>,
        /// Months until renewal.
        pub renew_months: Option<u32>,
        /// What food contact its supplier declares, in the supplier's words.
        pub food_contact: Option<String>,
        /// Hazards as pictogram codes of the UN system, such as `GHS05`.
        pub hazards: Option<Vec<String>>,
    }

    /// A tool, with its declared vibration.
    pub struct Tool {
        /// Name.
        pub name: String,
        /// What drives it.
        pub power: Power,
        /// Declared hand-arm vibration, in m/s².
        pub vibration_ms2: Option<f64>,
        /// Water-fed.
        pub water_fed: Option<bool>,
        /// Speed, in turns per minute.
        pub speed_rpm: Option<f64>,
        /// Area one disc, brush set or pad of it lasts, in m².
        pub life_m2: Option<f64>,
    }

    /// A route the shop copied or edited.
    pub struct RouteEntry {
        /// The route, in the form of `schemas/route.schema.json`.
        pub route: WrittenRoute,
        /// The shipped route it was copied from.
        pub copied_from: Option<String>,
    }

    /// The route frozen into a piece's record.
    pub struct RouteChosen {
        /// Code of the route.
        pub code: String,
        /// Its version.
        pub version: u32,
        /// The route as it stood when chosen, so that a later edit changes nothing here.
        pub route: Option<WrittenRoute>,
        /// Why, where it replaces another one midway.
        pub why: Option<String>,
    }

    /// Weights as batched, by material.
    pub struct Batch {
        /// Kilograms by name of material.
        pub weights_kg: BTreeMap<String, f64>,
        /// Whether the weights are from a scale.
        pub weighed: Option<Known<bool>>,
    }
}
