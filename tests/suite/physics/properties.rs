//! What must hold whatever the numbers are.

use super::*;
use proptest::prelude::*;

fn layer() -> impl Strategy<Value = Layer> {
    let sd = prop_oneof![0.0..0.2_f64, 0.1..5.0_f64, Just(0.0), Just(50.0), Just(1500.0), Just(1e30)];
    (prop_oneof![Just(0.0), 0.0..0.3_f64, 0.5..6.0_f64], sd).prop_map(|(r, sd)| Layer::new(r, sd))
}

/// A layer that is not cut and not so open that it counts as a millimeter of air.
fn thin_layer() -> impl Strategy<Value = Layer> {
    (0.0..0.25_f64, 0.01..5.0_f64).prop_map(|(r, sd)| Layer::new(r, sd))
}

fn layers() -> impl Strategy<Value = Vec<Layer>> {
    prop::collection::vec(layer(), 1..8)
}

fn outdoor_year() -> impl Strategy<Value = Vec<Air>> {
    (-15.0..22.0_f64, 1.0..16.0_f64, 0.4..1.0_f64, 0.0..0.3_f64).prop_map(|(mean, swing, phi, dip)| {
        (0..12)
            .map(|m| {
                let season = (f64::from(m) / 12.0 * std::f64::consts::TAU).cos();
                humid(mean - swing * season, phi - dip * (1.0 - season) / 2.0)
            })
            .collect()
    })
}

fn indoor() -> impl Strategy<Value = Indoor> {
    prop_oneof![
        (1..=5_u8).prop_map(class),
        (16.0..26.0_f64, 0.1..0.95_f64).prop_map(|(t, phi)| Indoor::Fixed(humid(t, phi))),
    ]
}

fn year() -> impl Strategy<Value = Year> {
    (outdoor_year(), indoor()).prop_map(|(outdoor, indoor)| Year::new(&outdoor, indoor).unwrap())
}

fn wall(layers: &[Layer]) -> Slab {
    Slab::new(layers, Surfaces::of(HeatFlow::Horizontal)).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(256) })]

    #[test]
    fn saturation_and_its_inverse_undo_each_other(t in -60.0..95.0_f64) {
        prop_assert!((saturation_temperature(saturation_pressure(t)).unwrap() - t).abs() < 1e-9);
    }

    #[test]
    fn the_same_air_on_both_sides_never_condenses(layers in layers(), t in -30.0..35.0_f64, phi in 0.0..1.0_f64) {
        let air = humid(t, phi);
        let state = profile(&wall(&layers), air, air).unwrap();
        prop_assert_eq!(state.condensing(), 0.0);
        let year = Year::new(&[air; 12], Indoor::Fixed(air)).unwrap();
        prop_assert_eq!(condensation(&wall(&layers), &year).unwrap().outlook, Outlook::Dry);
    }

    /// Steady: what comes in and does not go out condenses; and no pressure is above saturation.
    #[test]
    fn vapor_is_neither_made_nor_lost(layers in layers(), t in -30.0..35.0_f64, phi in 0.0..1.0_f64, room in 0.0..1.0_f64) {
        let state = profile(&wall(&layers), humid(20.0, room), humid(t, phi)).unwrap();
        let (into, out) = (state.vapor_in, state.vapor_out);
        prop_assert!((into - out - state.condensing()).abs() <= 1e-9 * into.abs().max(out.abs()) + 1e-13);
        for point in &state.points {
            prop_assert!(point.pressure <= point.saturation * (1.0 + 1e-12) && point.condensing >= 0.0);
            prop_assert!(point.pressure.is_finite() && point.pressure >= 0.0);
        }
    }

    /// Months: what a place holds is what it held and what the month brought; nothing is below zero; the year's
    /// changes add up to the residue.
    #[test]
    fn a_year_keeps_its_books(layers in layers(), year in year()) {
        let result = condensation(&wall(&layers), &year).unwrap();
        let mut sum = 0.0;
        for plane in &result.planes {
            let start = result.start.unwrap();
            let mut held = 0.0;
            for k in 0..12 {
                let month = (start + k) % 12;
                held += plane.change[month];
                prop_assert!((held - plane.held[month]).abs() < 1e-9 * (1.0 + held.abs()));
                prop_assert!(plane.held[month] >= 0.0);
                sum += plane.change[month];
            }
        }
        prop_assert!((sum - result.residue).abs() < 1e-9 * (1.0 + result.residue));
        let peak = (0..12).map(|m| result.held(m)).fold(0.0, f64::max);
        prop_assert!((peak - result.peak).abs() < 1e-9 * (1.0 + peak));
        prop_assert!(result.residue <= result.peak && result.peak.is_finite());
        let rests = matches!(result.outlook, Outlook::Dry | Outlook::Dries);
        prop_assert_eq!(rests, result.residue <= 1e-6);
    }

    /// A layer that stays whole, cut in two: temperatures and the dry pressures elsewhere stay. A wet cut is a place
    /// more where water can be, so there the comparison ends.
    #[test]
    fn a_layer_in_two_halves_is_the_same_layer(
        layers in prop::collection::vec(thin_layer(), 1..6), which in any::<prop::sample::Index>(), cut in 0.1..0.9_f64,
        t in -20.0..30.0_f64, phi in 0.3..1.0_f64,
    ) {
        let which = which.index(layers.len());
        let mut halves = layers.clone();
        let whole = layers[which];
        halves.splice(which..=which, [Layer::new(whole.resistance * cut, whole.sd * cut), Layer::new(whole.resistance * (1.0 - cut), whole.sd * (1.0 - cut))]);
        let state = |layers: &[Layer]| profile(&wall(layers), humid(20.0, 0.6), humid(t, phi)).unwrap();
        let (one, mut two) = (state(&layers), state(&halves));
        let middle = two.points.remove(which + 1);
        prop_assert!((one.heat_flow - two.heat_flow).abs() < 1e-9);
        for (a, b) in one.points.iter().zip(&two.points) {
            prop_assert!((a.temperature - b.temperature).abs() < 1e-9);
            if middle.condensing == 0.0 {
                prop_assert!((a.pressure - b.pressure).abs() < 1e-6);
                prop_assert!((a.condensing - b.condensing).abs() < 1e-9 * a.condensing + 1e-14);
            }
        }
    }

    /// The cuts that the standard makes anyway: a whole year is the same.
    #[test]
    fn cutting_where_the_standard_cuts_changes_nothing(
        before in layers(), after in layers(), quarters in 1..8_u32, sd in 0.05..5.0_f64, year in year(),
    ) {
        let thick = Layer::new(0.5 * f64::from(quarters), sd);
        let half = Layer::new(thick.resistance / 2.0, sd / 2.0);
        let around = |middle: &[Layer]| wall(&[&before, middle, &after[..]].concat());
        let one = condensation(&around(&[thick]), &year).unwrap();
        let two = condensation(&around(&[half, half]), &year).unwrap();
        prop_assert!((one.peak - two.peak).abs() <= 1e-7 * (1.0 + one.peak), "{} {}", one.peak, two.peak);
        prop_assert!((one.residue - two.residue).abs() <= 1e-7 * (1.0 + one.residue));
    }

    /// Vapor from the warm side: a retarder there never adds water.
    #[test]
    fn resistance_on_the_warm_side_never_adds_water(layers in layers(), t in -25.0..15.0_f64, phi in 0.0..0.9_f64, room in 0.3..0.9_f64, sd in 0.01..100.0_f64) {
        let (indoor, outdoor) = (humid(20.0, room), humid(t, phi));
        // The surface itself must stay above the dew point, or what it runs with counts as well.
        if indoor.pressure <= outdoor.pressure {
            return Ok(());
        }
        let state = |layers: &[Layer]| profile(&wall(layers), indoor, outdoor).unwrap();
        let bare = state(&layers);
        if bare.points[0].saturation <= indoor.pressure {
            return Ok(());
        }
        let with = state(&[&[Layer::new(0.0, sd)], &layers[..]].concat());
        prop_assert!(with.condensing() <= bare.condensing() * (1.0 + 1e-9) + 1e-14);
    }

    /// Repeated years: the remainder holds still, or grows by the same amount.
    #[test]
    fn repeated_years_come_to_rest(layers in layers(), year in year()) {
        let result = condensation(&wall(&layers), &year).unwrap();
        match result.outlook {
            Outlook::Dry => prop_assert!(result.planes.is_empty() && result.start.is_none()),
            Outlook::Dries => prop_assert!(result.peak > 0.0),
            Outlook::Remains { residue } => prop_assert!(residue >= result.residue * (1.0 - 1e-9)),
            Outlook::Accumulates { per_year } => prop_assert!(per_year > 0.0 && per_year.is_finite()),
        }
    }

    #[test]
    fn drying_gives_a_number_or_gives_up(layers in layers(), which in any::<prop::sample::Index>(), year in year(), start in 0..12_usize) {
        let layer = which.index(layers.len());
        let surfaces = Surfaces::of(HeatFlow::Horizontal);
        let result = drying(&layers, surfaces, &year, Wetting { layer, mass: 1.0, start }).unwrap();
        prop_assert!(result.months.is_none_or(|m| (1..=120).contains(&m)));
        prop_assert!(result.months_all.is_none_or(|all| result.months.unwrap() <= all));
        prop_assert!(result.elsewhere.iter().all(|(_, most)| most.is_finite() && *most > 0.0));
    }
}
