//! Typed looks at the bodies the rules read.

use crate::body::{Body, after, casting, handling, sealing, surface};

macro_rules! views {
    ($( $name:ident $kind:ident $family:ident :: $body:ident; )+) => { $(
        /// The body, if it is of this kind.
        pub(crate) fn $name(body: &Body) -> Option<&$family::$body> {
            match body { Body::$kind(it) => Some(it), _ => None }
        }
    )+ };
}

views! {
    pour Pour casting::Pour;
    demould Demould casting::Demould;
    strength Strength casting::Strength;
    temperature Temperature casting::Temperature;
    clean Clean surface::Clean;
    colour Colour surface::Colour;
    acid_wash AcidWash surface::AcidWash;
    neutralise Neutralise surface::Neutralise;
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
    loading Loading handling::Loading;
    delivery Delivery handling::Delivery;
    install Install handling::Install;
    handover Handover after::Handover;
}
