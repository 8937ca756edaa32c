//! A year of condensation: one wet place by hand, several against a march in small steps.

use super::*;
use proptest::prelude::*;

/// Two layers with one place between them, R 0.13 + 0.2 | 0.2 + 0.04, sd 1 | 2; the room has 20 C and 50 %, 1168.5 Pa.
fn two_layers() -> Slab {
    Slab::new(&[Layer::new(0.2, 1.0), Layer::new(0.2, 2.0)], Surfaces::of(HeatFlow::Horizontal)).unwrap()
}

fn year_of(months: [(f64, f64); 12]) -> Year {
    Year::new(&months.map(|(t, phi)| humid(t, phi)), Indoor::Fixed(humid(20.0, 0.5))).unwrap()
}

const WINTER: (f64, f64) = (-10.0, 0.8);
const FROST: (f64, f64) = (-4.0, 0.8);
const SPRING: (f64, f64) = (6.0, 0.8);
const SUMMER: (f64, f64) = (15.0, 0.6);

/// By hand. Winter: the place has 2.63 C, psat 737.8 Pa, pe 207.5 Pa, and gains
/// 2e-10 ((1168.5 - 737.8)/1 - (737.8 - 207.5)/2) = 3.310e-8 kg/(m2 s), 0.0887 kg in 31 days. Spring: 11.89 C, 1393 Pa,
/// 747.7 Pa, -1.094e-7, 0.293 kg away in March; what April could take is more than there is.
#[test]
fn one_wet_place_follows_the_hand_calculation() {
    let (w, s, h) = (WINTER, SPRING, SUMMER);
    let result = condensation(&two_layers(), &year_of([w, w, s, s, h, h, h, h, h, h, w, w])).unwrap();
    assert_eq!(result.start, Some(10));
    assert_eq!(result.planes.len(), 1);
    let plane = &result.planes[0];
    assert_eq!(plane.place, SlabPlace::Interface(1));
    let held = [0.2631, 0.3432, 0.0508, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0858, 0.1744];
    let change = [0.0887, 0.0801, -0.2924, -0.0508, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0858, 0.0887];
    for month in 0..12 {
        near(&format!("held {month}"), plane.held[month], held[month], 0.00005);
        near(&format!("change {month}"), plane.change[month], change[month], 0.00011);
    }
    near("peak", result.peak, 0.3432, 0.00005);
    assert_eq!((result.peak_month, result.residue, result.outlook), (Some(1), 0.0, Outlook::Dries));
}

/// Two seasons, July and August, and January. Counted from January, 0.0319 kg of the summer's water are left in
/// December; counted from July, all is gone in February. Only July can have begun dry.
#[test]
fn the_count_starts_where_it_can_have_begun_dry() {
    let (w, l, h) = (WINTER, FROST, SUMMER);
    let result = condensation(&two_layers(), &year_of([w, h, h, h, h, h, w, w, l, l, l, l])).unwrap();
    assert_eq!((result.start, result.residue, result.outlook), (Some(6), 0.0, Outlook::Dries));
    near("December", result.held(11), 0.0319, 0.00005);
    near("January", result.held(0), 0.1206, 0.00005);
    near("peak", result.peak, 0.1773, 0.00005);
}

/// Winter all year: 365 days of 3.310e-8 kg/(m2 s), every year anew.
#[test]
fn twelve_wet_months_accumulate() {
    let result = condensation(&two_layers(), &year_of([WINTER; 12])).unwrap();
    assert_eq!(result.start, Some(0));
    near("residue", result.residue, 1.0438, 0.00005);
    let Outlook::Accumulates { per_year } = result.outlook else { panic!("{:?}", result.outlook) };
    near("per year", per_year, 1.0438, 0.00005);
}

/// One summer month takes 0.667 kg, and ten of winter bring 0.9 kg: the rest of each year stays.
#[test]
fn what_a_summer_cannot_take_accumulates() {
    let mut months = [WINTER; 12];
    months[6] = SUMMER;
    let result = condensation(&two_layers(), &year_of(months)).unwrap();
    // 365 - 31 days of 3.310e-8, less 31 of 2.489e-7 kg/(m2 s).
    assert_eq!(result.start, Some(7));
    near("residue", result.residue, 334.0 * 86_400.0 * 3.3099e-8 - 31.0 * 86_400.0 * 2.489e-7, 0.0005);
    assert!(matches!(result.outlook, Outlook::Accumulates { per_year } if (per_year - result.residue).abs() < 1e-9));
}

/// A tight sheet between two layers of sd 1 m: winter wets its inner face out of the room, summer its outer face out of
/// the weather, and each is still wet when the other begins. November to February 227.2 Pa, 120 days, bring the inner
/// face 2e-10 * 227.2 * 120 * 86400 = 0.4711 kg, and 61 days of March and April at 172.1 Pa take 0.1814 kg. That is left in
/// May, every year. Counted from November it would be more.
#[test]
fn two_seasons_that_overlap_leave_a_remainder_that_stays() {
    let tight = Layer::new(0.0, 1e4);
    let wall = [Layer::new(0.2, 1.0), tight, Layer::new(0.2, 1.0)];
    let slab = Slab::new(&wall, Surfaces::of(HeatFlow::Horizontal)).unwrap();
    let (w, mild, hot, fall) = (FROST, (5.0, 0.9), (30.0, 0.95), (10.0, 0.9));
    let result = condensation(&slab, &year_of([w, w, mild, mild, hot, hot, hot, hot, fall, fall, w, w])).unwrap();
    assert_eq!(result.start, Some(4));
    let planes: Vec<SlabPlace> = result.planes.iter().map(|p| p.place).collect();
    assert_eq!(planes, [SlabPlace::Interface(1), SlabPlace::Interface(2)]);
    near("residue", result.residue, 0.2897, 0.0005);
    near("outer face in April", result.planes[1].held[3], 0.0, 1e-12);
    let Outlook::Remains { residue } = result.outlook else { panic!("{:?}", result.outlook) };
    near("remainder", residue, result.residue, 0.0005);
}

/// What the slab computes about itself, recomputed here: sd and R to each interface of layers that are not cut.
struct Places {
    sd: Vec<f64>,
    share: Vec<f64>,
}

fn places(layers: &[Layer]) -> Places {
    let total = 0.17 + layers.iter().map(|l| l.resistance).sum::<f64>();
    let (mut sd, mut share) = (vec![0.0], vec![0.13 / total]);
    for layer in layers {
        sd.push(sd[sd.len() - 1] + layer.sd);
        share.push(share[share.len() - 1] + layer.resistance / total);
    }
    Places { sd, share }
}

/// Vapor pressures by relaxation: each place takes the mean of its neighbors, weighed by permeance, but never more than
/// saturation; wet places have just that. It knows nothing of strings and hulls.
fn relax(places: &Places, month: &Month, wet: &[bool]) -> (Vec<f64>, Vec<f64>) {
    let span = month.indoor.temperature - month.outdoor.temperature;
    let saturation: Vec<f64> =
        places.share.iter().map(|s| saturation_pressure(month.indoor.temperature - s * span)).collect();
    let last = places.sd.len() - 1;
    let mut p = saturation.clone();
    p[0] = month.indoor.pressure.min(saturation[0]);
    p[last] = month.outdoor.pressure.min(saturation[last]);
    let permeance = |i: usize| DELTA0 / (places.sd[i + 1] - places.sd[i]);
    loop {
        let mut moved = 0.0_f64;
        for i in 1..last {
            let (a, b) = (permeance(i - 1), permeance(i));
            let mean = (a * p[i - 1] + b * p[i + 1]) / (a + b);
            let next = if wet[i] { saturation[i] } else { mean.min(saturation[i]) };
            moved = moved.max((next - p[i]).abs());
            p[i] = next;
        }
        if moved < 1e-9 {
            break;
        }
    }
    let mut rate = vec![0.0; last + 1];
    for i in 1..last {
        rate[i] = permeance(i - 1) * (p[i - 1] - p[i]) - permeance(i) * (p[i] - p[i + 1]);
    }
    (p, rate)
}

/// Layers that are not cut, open and tight ones after each other: several places get wet.
fn thin_wall() -> impl Strategy<Value = Vec<Layer>> {
    prop::collection::vec((0.02..0.24_f64, -0.7..1.3_f64).prop_map(|(r, e)| Layer::new(r, 10_f64.powf(e))), 3..8)
}

fn seasons() -> impl Strategy<Value = Year> {
    (-2.0..18.0_f64, 6.0..16.0_f64, 0.6..0.95_f64, 18.0..24.0_f64, 0.4..0.75_f64).prop_map(
        |(mean, swing, phi, t, room)| {
            let season = |m: usize| (m as f64 / 12.0 * std::f64::consts::TAU).cos();
            let outdoor: Vec<Air> = (0..12).map(|m| humid(mean - swing * season(m), phi)).collect();
            Year::new(&outdoor, Indoor::Fixed(humid(t, room))).unwrap()
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(64) })]

    #[test]
    fn the_taut_string_is_what_relaxation_finds(layers in thin_wall(), year in seasons(), month in 0..12_usize) {
        let month = &year.months()[month];
        let slab = Slab::new(&layers, Surfaces::of(HeatFlow::Horizontal)).unwrap();
        let state = profile(&slab, month.indoor, month.outdoor).unwrap();
        let (p, rate) = relax(&places(&layers), month, &vec![false; layers.len() + 1]);
        for (i, point) in state.points.iter().enumerate() {
            prop_assert!((point.pressure - p[i]).abs() < 1e-5, "{i}: {} {}", point.pressure, p[i]);
            prop_assert!((point.condensing - rate[i]).abs() < 1e-13, "{i}: {} {}", point.condensing, rate[i]);
        }
    }

    /// The year in thousands of small steps, each place wet while it has water: no event is looked for, so each step may
    /// take too much by what one step brings.
    #[test]
    fn a_year_is_what_small_steps_make_of_it(layers in thin_wall(), year in seasons()) {
        let slab = Slab::new(&layers, Surfaces::of(HeatFlow::Horizontal)).unwrap();
        let result = condensation(&slab, &year).unwrap();
        let Some(start) = result.start else { return Ok(()) };
        let places = places(&layers);
        let mut mass = vec![0.0_f64; layers.len() + 1];
        const STEPS: usize = 400;
        let mut slack = 1e-6;
        for k in 0..12 {
            let month = &year.months()[(start + k) % 12];
            let step = month.days * 86_400.0 / STEPS as f64;
            let mut known: Option<(Vec<bool>, Vec<f64>)> = None;
            for _ in 0..STEPS {
                let wet: Vec<bool> = mass.iter().map(|m| *m > 0.0).collect();
                if known.as_ref().is_none_or(|(before, _)| *before != wet) {
                    let (_, rate) = relax(&places, month, &wet);
                    slack += rate.iter().map(|g| g.abs()).sum::<f64>() * step;
                    known = Some((wet, rate));
                }
                for (m, g) in mass.iter_mut().zip(&known.as_ref().unwrap().1) {
                    *m = (*m + if g.abs() < 1e-14 { 0.0 } else { g * step }).max(0.0);
                }
            }
            let held = result.held((start + k) % 12);
            let total: f64 = mass.iter().sum();
            prop_assert!((held - total).abs() < slack, "month {}: {held} {total} within {slack}", (start + k) % 12);
        }
        prop_assert!(slack < 0.02 + 0.05 * result.peak, "steps too coarse: {slack} of {}", result.peak);
    }
}
