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
    casting { sample_late form_not_cured backing_out_of_window glass_without_pozzolan heat_cure }
    strength { lifted_too_young rebound_on_thin cut_below_gate fine_grit_early deep_cut_too_late }
    grinding {
        grit_too_coarse grit_step brush_first_cut wrong_backer plucking pass_unfinished chatter_left soft_stone_dished
        fill_before_open fill_still_soft fill_not_repassed finer_than_useful
    }
    washing {
        acid_unprepared acid_too_strong acid_on_soft_stone acid_near_metal acid_left_on ammonia_too_strong ph_low ph_high
    }
    sealing {
        sealed_too_wet moisture_out_of_scope face_not_open film_on_dirty_face too_fine_for_film
        coarse_end_on_weak silicate_over_residue coat_near_dew_point coat_out_of_range surface_warming
        coat_over_open_pores recoat_window pot_life_passed concrete_too_young quantity_off not_to_refusal
        lot_missing lot_expired used_before_cured
    }
    handling { harmful_at_install }
    record { handover_gap written_late clock_jumped photo_without_file reading_missing entry_unreadable }
    safety {
        bleach_near_acid fluoride_cleaner acid_unconfirmed dry_grinding no_ground_fault_guard
        solvent_unconfirmed isocyanate_unconfirmed rack_not_tied on_edge_unconfirmed no_strongback
        suction_untested too_heavy vibration_day burner_unconfirmed wet_cement grinder_noise slurry_to_drain
    }
}
