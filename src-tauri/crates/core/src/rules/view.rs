//! Typed looks at the bodies the rules read.

use crate::body::{Body, after, before, casting, handling, sealing, surface};

macro_rules! views {
    ($( $name:ident $kind:ident $family:ident :: $body:ident; )+) => { $(
        /// The body, if it is of this kind.
        pub(crate) fn $name(body: &Body) -> Option<&$family::$body> {
            match body { Body::$kind(it) => Some(it), _ => None }
        }
    )+ };
}

views! {
    sample_agreed SampleAgreed before::SampleAgreed;
    form_prepared FormPrepared before::FormPrepared;
    pour Pour casting::Pour;
    initial_cure InitialCure casting::InitialCure;
    demould Demould casting::Demould;
    strength Strength casting::Strength;
    temperature Temperature casting::Temperature;
    clean Clean surface::Clean;
    colour Colour surface::Colour;
    trial_spot TrialSpot surface::TrialSpot;
    rinse Rinse surface::Rinse;
    acid_wash AcidWash surface::AcidWash;
    neutralise Neutralise surface::Neutralise;
    ph_reading PhReading surface::PhReading;
    grit_pass GritPass surface::GritPass;
    flush Flush surface::Flush;
    fill Fill surface::Fill;
    strip Strip surface::Strip;
    densify Densify sealing::Densify;
    dry Dry sealing::Dry;
    climate Climate sealing::Climate;
    moisture Moisture sealing::Moisture;
    water_drop WaterDrop sealing::WaterDrop;
    seal_coat SealCoat sealing::SealCoat;
    storage Storage handling::Storage;
    packing Packing handling::Packing;
    loading Loading handling::Loading;
    delivery Delivery handling::Delivery;
    install Install handling::Install;
    handover Handover after::Handover;
}
