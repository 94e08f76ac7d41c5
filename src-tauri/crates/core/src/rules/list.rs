//! The list of rules: the only table. A rule without its four tests does not compile.

use super::Rule;

macro_rules! rules {
    ($( $family:ident { $($name:ident)+ } )+) => {
        /// Every rule, in the order of the reference page.
        pub static ALL: &[&Rule] = &[ $( $( &super::$family::$name::RULE, )+ )+ ];

        /// The tests every rule has beside it: clear, violated, cannot tell, excepted.
        #[cfg(test)]
        pub(crate) const TESTED: &[(&Rule, [fn(); 4])] = &[ $( $( (&super::$family::$name::RULE, {
            use super::$family::$name::tests;
            [tests::clear, tests::violated, tests::cannot_tell, tests::excepted]
        }), )+ )+ ];
    };
}

rules! {
    strength { cut_below_gate }
    grinding { grit_step plucking }
    washing { acid_too_strong acid_left_on }
    sealing { sealed_too_wet coat_near_dew_point recoat_window face_not_open lot_expired }
    record { handover_gap written_late }
    safety {
        bleach_near_acid acid_unconfirmed dry_grinding no_ground_fault_guard solvent_unconfirmed
        isocyanate_unconfirmed rack_not_tied on_edge_unconfirmed suction_untested burner_unconfirmed
    }
}
