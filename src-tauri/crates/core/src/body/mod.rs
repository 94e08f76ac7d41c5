//! Kinds of entries and their typed bodies.
//!
//! A body is plain JSON in SI units: a field's unit is the suffix of its name (`air_c`, `area_m2`). The table
//! at the end of this file is the one list of kinds; schemas, forms and the command line are made from it.
//! Stored bodies are read tolerantly (fields a newer version added are ignored); what a person enters is read
//! strictly by [`crate::body::input`].

#[macro_use]
mod declare;
pub mod after;
pub mod authority;
pub mod before;
pub mod casting;
pub mod common;
pub mod handling;
pub mod input;
pub mod labels;
mod refusal;
pub mod sealing;
pub mod setup;
pub mod shape;
pub mod surface;

pub use common::{Common, Known, Photo, Place, Region};

use serde_json::{Map, Value};

use crate::text::{Text, text};

/// What an entry of a kind must name beside its body.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Needs {
    /// At least one piece.
    Pieces,
    /// At least one piece and, in `region`, the part of it that was worked.
    Region,
    /// Pieces, or the pour they came from in `object`.
    PourOrPieces,
    /// It creates or changes the object named in `object`.
    Object,
    /// Creates a pour: `object` and its pieces.
    NewPour,
    /// A job in `object`, or pieces.
    JobOrPieces,
    /// The device in `peer`.
    Peer,
    /// The device in `peer` and the head of its log in `refs`.
    PeerAndHead,
    /// At least one entry in `refs`.
    Refs,
    /// Nothing.
    Nothing,
}

/// Where a kind belongs in the life of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Group {
    /// People, jobs, pieces, mixes, products, tools, settings.
    Setup,
    /// Before the pour.
    Before,
    /// From the pour to the sealed face.
    Work,
    /// Storing, moving, installing, handing over, looking after.
    After,
    /// About other entries or about devices.
    Record,
}

kinds! {
    // kind        wire name            type                        needs         group   English, Spanish
    Settings       "settings"           setup::Settings             Nothing       Setup   "shop settings", "ajustes del taller";
    Person         "person"             setup::Person               Object        Setup   "person", "persona";
    Client         "client"             setup::Client               Object        Setup   "client", "cliente";
    Job            "job"                setup::Job                  Object        Setup   "job", "trabajo";
    Piece          "piece"              setup::Piece                Object        Setup   "piece", "pieza";
    Mix            "mix"                setup::Mix                  Object        Setup   "mix", "mezcla";
    Product        "product"            setup::Product              Object        Setup   "product", "producto";
    Tool           "tool"               setup::Tool                 Object        Setup   "tool", "herramienta";
    Route          "route"              setup::RouteEntry           Object        Setup   "route", "ruta de acabado";
    RouteChosen    "route_chosen"       setup::RouteChosen          Pieces        Setup   "route chosen", "ruta elegida";
    Quote          "quote"              before::Quote               JobOrPieces   Before  "quote", "presupuesto";
    SiteSurvey     "site_survey"        before::SiteSurvey          JobOrPieces   Before  "site survey", "visita de obra";
    DrawingApproved "drawing_approved"  before::DrawingApproved     JobOrPieces   Before  "drawing approved", "plano aprobado";
    SampleAgreed   "sample_agreed"      before::SampleAgreed        JobOrPieces   Before  "sample agreed", "muestra acordada";
    ChangeAgreed   "change_agreed"      before::ChangeAgreed        JobOrPieces   Before  "change agreed", "cambio acordado";
    FormPrepared   "form_prepared"      before::FormPrepared        Pieces        Before  "form prepared", "molde preparado";
    Pour           "pour"               casting::Pour               NewPour       Work    "pour", "vertido";
    InitialCure    "initial_cure"       casting::InitialCure        PourOrPieces  Work    "initial cure", "curado inicial";
    Demould        "demould"            casting::Demould            Pieces        Work    "demold", "desmoldeo";
    Strength       "strength"           casting::Strength           PourOrPieces  Work    "strength evidence", "prueba de resistencia";
    Temperature    "temperature"        casting::Temperature        PourOrPieces  Work    "temperature", "temperatura";
    Clean          "clean"              surface::Clean              Pieces        Work    "clean", "limpieza";
    Colour         "colour"             surface::Colour             Pieces        Work    "color", "color";
    TrialSpot      "trial_spot"         surface::TrialSpot          Pieces        Work    "trial spot", "prueba en zona oculta";
    AcidWash       "acid_wash"          surface::AcidWash           Region        Work    "acid wash", "lavado ácido";
    Rinse          "rinse"              surface::Rinse              Pieces        Work    "rinse", "enjuague";
    Neutralise     "neutralise"         surface::Neutralise         Pieces        Work    "neutralize", "neutralización";
    PhReading      "ph_reading"         surface::PhReading          Pieces        Work    "pH reading", "lectura de pH";
    GritPass       "grit_pass"          surface::GritPass           Region        Work    "grit pass", "pasada de grano";
    Flush          "flush"              surface::Flush              Pieces        Work    "flush face and pad", "lavado de cara y disco";
    Fill           "fill"               surface::Fill               Pieces        Work    "fill", "relleno";
    Trowel         "trowel"             surface::Trowel             Pieces        Work    "trowel", "fratasado";
    Strip          "strip"              surface::Strip              Region        Work    "strip or abrade", "decapado o lijado";
    Densify        "densify"            sealing::Densify            Pieces        Work    "densify", "densificado";
    Dry            "dry"                sealing::Dry                Pieces        Work    "dry", "secado";
    Climate        "climate"            sealing::Climate            Pieces        Work    "climate", "clima";
    Moisture       "moisture"           sealing::Moisture           Pieces        Work    "moisture reading", "lectura de humedad";
    WaterDrop      "water_drop"         sealing::WaterDrop          Pieces        Work    "water-drop test", "prueba de la gota";
    SealCoat       "seal_coat"          sealing::SealCoat           Pieces        Work    "seal coat", "mano de sellador";
    SealerCure     "sealer_cure"        sealing::SealerCure         Pieces        Work    "sealer cure", "curado del sellador";
    Inspection     "inspection"         after::Inspection           Pieces        Work    "inspection", "inspección";
    WaterTest      "water_test"         after::WaterTest            Pieces        Work    "water test", "prueba de agua";
    Storage        "storage"            handling::Storage           Pieces        After   "store", "almacenaje";
    Packing        "packing"            handling::Packing           Pieces        After   "pack", "embalaje";
    Loading        "loading"            handling::Loading           Pieces        After   "load", "carga";
    Delivery       "delivery"           handling::Delivery          Pieces        After   "deliver", "entrega en obra";
    Install        "install"            handling::Install           Pieces        After   "install", "instalación";
    InCareOf       "in_care_of"         handling::InCareOf          Pieces        After   "left in care of", "dejado al cuidado de";
    Handover       "handover"           after::Handover             Pieces        After   "handover", "entrega al cliente";
    ServiceVisit   "service_visit"      after::ServiceVisit         Pieces        After   "service visit", "visita de mantenimiento";
    Incident       "incident"           after::Incident             Nothing       After   "incident", "incidente";
    SafetyConfirmed "safety_confirmed"  after::SafetyConfirmed      Nothing       Record  "safety confirmed", "seguridad confirmada";
    Note           "note"               after::Note                 Nothing       Record  "note", "nota";
    Correction     "correction"         authority::Correction       Refs          Record  "correction", "corrección";
    Strike         "strike"             authority::Strike           Refs          Record  "strike", "anulación";
    Exception      "exception"          authority::Exception        Pieces        Record  "exception", "excepción";
    Device         "device"             authority::Device           Nothing       Record  "device", "dispositivo";
    Accept         "accept"             authority::Accept           Peer          Record  "device accepted", "dispositivo aceptado";
    Retire         "retire"             authority::Retire           PeerAndHead   Record  "device retired", "dispositivo retirado";
    Recover        "recover"            authority::Recover          Peer          Record  "shop recovered", "taller recuperado";
    Role           "role"               authority::RoleGiven        Peer          Record  "role given", "función asignada";
    SettleFork     "settle_fork"        authority::SettleFork       Refs          Record  "fork settled", "bifurcación resuelta";
    Passphrase     "passphrase"         authority::Passphrase       Nothing       Record  "passphrase set", "contraseña fijada";
    Erase          "erase"              authority::Erase            Refs          Record  "personal data erased", "datos personales borrados";
}

/// A body with the fields every kind may carry.
#[derive(Debug, Clone, PartialEq)]
pub struct Details {
    /// Region, place, notes, photos, values as entered.
    pub common: Common,
    /// The kind's own fields.
    pub body: Body,
}

impl Details {
    /// Reads a stored body. Fields this version does not know are ignored: a newer version wrote them.
    ///
    /// # Errors
    /// A must field is missing, or a value is not of its type.
    pub fn from_stored(kind: Kind, value: &Value) -> Result<Self, serde_json::Error> {
        let map = value.as_object().cloned().unwrap_or_default();
        let (common, own) = common::split(map);
        let common = serde_json::from_value(Value::Object(common))?;
        Ok(Self { common, body: Body::from_value(kind, Value::Object(own))? })
    }

    /// The body as it is stored: one flat object, fields in order of declaration, common ones last.
    pub fn to_stored(&self) -> Map<String, Value> {
        let mut map = self.body.to_map();
        if let Ok(Value::Object(common)) = serde_json::to_value(&self.common) {
            map.extend(common);
        }
        map
    }
}

#[cfg(test)]
mod tests;
