//! Washes, neutralising, pH.

use trowelogue_testkit::trowelogue_core::sums::chemistry::{Agent, Dissolved, molar, ph};
use trowelogue_testkit::trowelogue_core::sums::wash::{
    diluted_mol_per_l, dilution, dissolved_mol_per_l, neutraliser, removal_bound_um, wash_strength,
};

use crate::{Check, check, to_the_digit};

const CHEMPY: &str = "chempy 0.10.2, molar masses and balanced reactions";
const CRC: &str = "CRC Handbook, densities and pKa values (from memory)";

pub(crate) fn checks() -> Vec<Check> {
    [masses(), stocks(), volumes(), washes(), acidity()].into_iter().flatten().collect()
}

/// Half a per cent: the tolerance of every row of stoichiometry.
fn close(source: &'static str, what: impl Into<String>, found: f64, wanted: f64) -> Check {
    check(source, what, found, wanted, 0.005 * wanted.abs())
}

fn masses() -> Vec<Check> {
    const IUPAC: &str = "IUPAC abridged atomic weights (from memory)";
    vec![
        check(CHEMPY, "HCl, g/mol", molar::HCL, 36.458, 0.0005),
        check(CHEMPY, "CaCO3, g/mol", molar::CACO3, 100.086, 0.0005),
        check(CHEMPY, "NaHCO3, g/mol", molar::NAHCO3, 84.006, 0.0005),
        check(IUPAC, "HCl, g/mol", molar::HCL, 36.461, 0.004),
        check(IUPAC, "CaCO3, g/mol", molar::CACO3, 100.087, 0.01),
    ]
}

fn stocks() -> Vec<Check> {
    let mol = |agent: Agent, pct| agent.stock_mol_per_l(pct, None).expect("in the table");
    vec![
        close(CRC, "HCl 31.45 %, mol/L", mol(Agent::Hydrochloric, 31.45), 10.007),
        close(CRC, "HCl 32 %, mol/L", mol(Agent::Hydrochloric, 32.0), 10.173),
        close(CRC, "HCl 35.2 %, mol/L", mol(Agent::Hydrochloric, 35.2), 11.383),
        close(CRC, "HCl 37 %, mol/L", mol(Agent::Hydrochloric, 37.0), 12.016),
        close(CRC, "HCl 14.5 %, mol/L", mol(Agent::Hydrochloric, 14.5), 4.256),
        close(CRC, "NH3 2 %, mol/L", mol(Agent::Ammonia, 2.0), 1.163),
        close(CRC, "NH3 5 %, mol/L", mol(Agent::Ammonia, 5.0), 2.868),
        close(CRC, "NH3 10 %, mol/L", mol(Agent::Ammonia, 10.0), 5.619),
        close(CRC, "H3PO4 85 %, mol/L", mol(Agent::Phosphoric, 85.0), 14.616),
        close(CRC, "H3PO4 75 %, mol/L", mol(Agent::Phosphoric, 75.0), 12.039),
        close(CRC, "citric 100 g/L", dissolved_mol_per_l(Agent::Citric, 100.0).expect("in range"), 0.5205),
        close(
            CRC,
            "sulfamic 1 lb/gal",
            dissolved_mol_per_l(Agent::Sulfamic, 119.83).expect("in range"),
            1.2342,
        ),
    ]
}

fn volumes() -> Vec<Check> {
    const RATIO: &str = "volume ratio R:1, by definition (arithmetic by hand)";
    let rows =
        [(10.0, 1.0, "0.0909", "0.9091"), (10.0, 5.0, "0.4545", "4.5455"), (20.0, 10.0, "0.4762", "9.5238")];
    let each = |(ratio, volume, concentrate, water): (f64, f64, &str, &str)| {
        let found = dilution(ratio, volume).expect("in range");
        [
            to_the_digit(
                RATIO,
                format!("concentrate of {volume} L at {ratio}:1"),
                found.concentrate_l,
                concentrate,
            ),
            to_the_digit(RATIO, format!("water of {volume} L at {ratio}:1"), found.water_l, water),
        ]
    };
    rows.into_iter().flat_map(each).collect()
}

fn washes() -> Vec<Check> {
    // Ratio, mol/L, g CaCO3, L CO2, g NaHCO3, g Na2CO3, mL of 5 % ammonia: of 31.45 % hydrochloric acid.
    let rows = [
        (1.0, 5.0033, 250.38, 60.18, 420.3, 265.1, 1744.0),
        (5.0, 1.6678, 83.46, 20.06, 140.1, 88.4, 581.0),
        (10.0, 0.9097, 45.52, 10.94, 76.4, 48.2, 317.0),
        (20.0, 0.4765, 23.85, 5.73, 40.0, 25.3, 166.0),
        (50.0, 0.1962, 9.82, 2.36, 16.5, 10.4, 68.0),
    ];
    let wash = |ratio| {
        let mol = diluted_mol_per_l(Agent::Hydrochloric, 31.45, None, ratio).expect("in range");
        wash_strength(Agent::Hydrochloric, mol).expect("in range")
    };
    let mut checks = Vec::new();
    for (ratio, mol, chalk, gas, bicarbonate, soda, ammonia) in rows {
        let found = wash(ratio);
        checks.push(close(CHEMPY, format!("{ratio}:1, mol/L"), found.strength_mol_per_l, mol));
        checks.push(close(CHEMPY, format!("{ratio}:1, g CaCO3/L"), found.caco3_g_per_l, chalk));
        checks.push(close(CHEMPY, format!("{ratio}:1, L CO2/L"), found.co2_l_per_l, gas));
        checks.push(close(CHEMPY, format!("{ratio}:1, g NaHCO3/L"), found.nahco3_g_per_l, bicarbonate));
        checks.push(close(CHEMPY, format!("{ratio}:1, g Na2CO3/L"), found.na2co3_g_per_l, soda));
        // Recorded to the millilitre.
        let within = f64::max(0.5, 0.005 * ammonia);
        checks.push(check(
            CHEMPY,
            format!("{ratio}:1, mL ammonia/L"),
            found.ammonia_5_pct_ml_per_l,
            ammonia,
            within,
        ));
    }
    let left = neutraliser(&wash(10.0), 0.1, 3.0, 5.0).expect("in range");
    checks.push(close(CHEMPY, "acid left on 3 m², NaHCO3 g", left.nahco3_g, 22.92));
    checks.push(close(CHEMPY, "acid left on 3 m², ammonia mL", left.ammonia_ml, 95.1));
    checks.push(close(
        CHEMPY,
        "0.3 L/m² of 10:1, µm of paste",
        removal_bound_um(&wash(10.0), 0.3).expect("in range"),
        6.2,
    ));
    for (agent, wanted) in [
        (Agent::Hydrochloric, 1.3726),
        (Agent::Sulfamic, 0.5154),
        (Agent::Phosphoric, 1.0214),
        (Agent::Citric, 0.7814),
    ] {
        let strong = wash_strength(agent, 1.0).expect("in range");
        let found = strong.caco3_g_per_l / strong.strength_g_per_l;
        checks.push(close(CHEMPY, format!("g CaCO3 to a gram of {}", agent.wire()), found, wanted));
    }
    checks
}

fn acidity() -> Vec<Check> {
    const BALANCE: &str = "charge balance with pKa of the CRC Handbook (arithmetic by hand)";
    let of =
        |agent, mol| ph(&Dissolved { agent: Some((agent, mol)), ..Dissolved::default() }).expect("in range");
    let titrated = |share: f64| {
        let mix = Dissolved {
            agent: Some((Agent::Hydrochloric, 0.1)),
            ammonia_mol_per_l: 0.1 * share,
            ..Dissolved::default()
        };
        ph(&mix).expect("in range")
    };
    let bicarbonate =
        ph(&Dissolved { bicarbonate_mol_per_l: 0.1, ..Dissolved::default() }).expect("in range");
    let soda = ph(&Dissolved { carbonate_mol_per_l: 0.1, ..Dissolved::default() }).expect("in range");
    let mut checks = vec![
        check(BALANCE, "HCl 0.9097 M", of(Agent::Hydrochloric, 0.9097), 0.04, 0.005),
        check(BALANCE, "HCl 0.4765 M", of(Agent::Hydrochloric, 0.4765), 0.32, 0.005),
        check(BALANCE, "sulfamic 10 g/L", of(Agent::Sulfamic, 0.103), 1.214, 0.002),
        check(BALANCE, "sulfamic 100 g/L", of(Agent::Sulfamic, 1.030), 0.582, 0.002),
        check(BALANCE, "phosphoric 10 g/L", of(Agent::Phosphoric, 0.102), 1.627, 0.003),
        check(BALANCE, "phosphoric 50 g/L", of(Agent::Phosphoric, 0.510), 1.246, 0.003),
        check(BALANCE, "citric 10 g/L", of(Agent::Citric, 0.052), 2.230, 0.003),
        check(BALANCE, "citric 100 g/L", of(Agent::Citric, 0.521), 1.714, 0.003),
        check(BALANCE, "ammonia 0.1 M", of(Agent::Ammonia, 0.1), 11.120, 0.002),
        check(BALANCE, "ammonia 2.868 M", of(Agent::Ammonia, 2.868), 11.851, 0.002),
        check(BALANCE, "bicarbonate 0.1 M", bicarbonate, 8.34, 0.01),
        check(BALANCE, "soda 0.1 M", soda, 11.65, 0.01),
    ];
    let rows = [
        (0.0, 1.0),
        (0.5, 1.301),
        (0.9, 2.0),
        (0.99, 3.0),
        (1.0, 5.123),
        (1.01, 7.246),
        (1.1, 8.246),
        (2.0, 9.246),
    ];
    // The hand values leave out a little protolysis at the low end and water at the high one.
    checks.extend(rows.map(|(share, wanted)| {
        check(BALANCE, format!("0.1 M HCl with {share} of ammonia"), titrated(share), wanted, 0.01)
    }));
    checks
}
