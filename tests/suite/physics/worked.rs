//! T1 to T4: examples worked in print, each file with its source and its printed precision.

use super::*;

#[derive(Deserialize)]
struct Example {
    source: String,
    surfaces: [f64; 2],
    layers: Vec<ExampleLayer>,
    indoor: ExampleAir,
    outdoor: ExampleAir,
    days: Option<f64>,
    drying: Option<ExampleDrying>,
    #[serde(default)]
    dry_at: Vec<f64>,
    #[serde(default)]
    wet_at: Vec<f64>,
    expected: Expected,
}

#[derive(Deserialize)]
struct ExampleLayer {
    r: f64,
    sd: f64,
}

#[derive(Deserialize)]
struct ExampleAir {
    temperature: f64,
    pressure: Option<f64>,
    humidity: Option<f64>,
}

#[derive(Deserialize)]
struct ExampleDrying {
    pressure: f64,
    saturation: f64,
    days: f64,
}

#[derive(Deserialize)]
struct Printed {
    values: Vec<f64>,
    within: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Expected {
    resistance: Option<Printed>,
    u: Printed,
    heat_flow: Option<Printed>,
    /// From the inner surface on.
    temperature: Option<Printed>,
    /// From the first interface behind the inner surface on.
    saturation: Option<Printed>,
    pressure: Option<Printed>,
    /// Interfaces that condense.
    wet: Vec<usize>,
    rate: Option<Printed>,
    mass: Option<Printed>,
    drying_rate: Option<Printed>,
    drying_potential: Option<Printed>,
    residue: Option<Printed>,
}

impl ExampleAir {
    fn air(&self) -> Air {
        match (self.pressure, self.humidity) {
            (Some(pressure), None) => Air { temperature: self.temperature, pressure },
            (None, Some(phi)) => humid(self.temperature, phi),
            _ => panic!("an example gives pressure or humidity"),
        }
    }
}

fn compare(name: &str, got: &[f64], printed: &Option<Printed>) {
    let Some(printed) = printed else { return };
    assert_eq!(got.len(), printed.values.len(), "{name}");
    for (i, (got, want)) in got.iter().zip(&printed.values).enumerate() {
        near(&format!("{name} {i}"), *got, *want, printed.within);
    }
}

fn check(name: &str) {
    let example: Example = fixture(name);
    assert!(!example.source.is_empty());
    let layers: Vec<Layer> = example.layers.iter().map(|l| Layer::new(l.r, l.sd)).collect();
    let [inside, outside] = example.surfaces;
    let slab = Slab::new(&layers, Surfaces { inside, outside }).unwrap();
    let (indoor, outdoor) = (example.indoor.air(), example.outdoor.air());
    let drying = example.drying.map(|d| DryingPeriod { pressure: d.pressure, saturation: d.saturation, days: d.days });
    let days = example.days.unwrap_or(1.0);
    let spell = design_period(&slab, DesignPeriod { indoor, outdoor, days }, drying).unwrap();
    let want = example.expected;

    let parts: Vec<ThermalLayer> = layers.iter().map(|l| ThermalLayer::plain(l.resistance)).collect();
    let plain = resistance(&parts, Surfaces { inside, outside }).unwrap();
    near("U of the slab", slab.u_value(), want.u.values[0], want.u.within);
    near("U of the parts", plain.u, want.u.values[0], want.u.within);
    near("their error", plain.error, 0.0, 1e-12);
    compare("R", &[slab.resistance()], &want.resistance);
    compare("q", &[spell.profile.heat_flow], &want.heat_flow);
    let at: Vec<&Point> = spell.profile.interfaces().collect();
    assert_eq!(at.len(), layers.len() + 1);
    let column = |of: fn(&Point) -> f64, from: usize| at[from..].iter().map(|p| of(p)).collect::<Vec<_>>();
    compare("temperature", &column(|p| p.temperature, 0), &want.temperature);
    compare("saturation", &column(|p| p.saturation, 1), &want.saturation);
    compare("pressure", &column(|p| p.pressure, 1), &want.pressure);
    let wet: Vec<SlabPlace> = spell.planes.iter().map(|p| p.place).collect();
    assert_eq!(wet, want.wet.into_iter().map(SlabPlace::Interface).collect::<Vec<_>>());
    compare("rate", &spell.planes.iter().map(|p| p.rate).collect::<Vec<_>>(), &want.rate);
    compare("mass", &[spell.mass], &want.mass);
    compare("drying rate", &[spell.drying_rate], &want.drying_rate);
    compare("drying potential", &[spell.drying_potential], &want.drying_potential);
    compare("residue", &[spell.residue], &want.residue);

    let condenses = |phi: f64| profile(&slab, humid(indoor.temperature, phi), outdoor).unwrap().condensing() > 0.0;
    assert!(!example.dry_at.into_iter().any(condenses));
    assert!(example.wet_at.into_iter().all(condenses));
}

#[test]
fn t1_timber_wall() {
    check("t1_timber_wall");
}

#[test]
fn t2_concrete_wall() {
    check("t2_concrete_wall");
}

#[test]
fn t3_roof_slab() {
    check("t3_roof_slab");
}

#[derive(Deserialize)]
struct Framed {
    surfaces: [f64; 2],
    parts: Vec<FramedPart>,
    upper: Printed,
    lower: Printed,
    u: Printed,
    u_printed: Printed,
}

#[derive(Deserialize)]
struct FramedPart {
    r: f64,
    frame: Option<f64>,
    share: Option<f64>,
}

#[test]
fn t4_framed_wall() {
    let example: Framed = fixture("t4_framed_wall");
    let parts = example.parts.iter().map(|p| ThermalLayer {
        frame: p.frame.zip(p.share).map(|(resistance, share)| Frame { resistance, share }),
        ..ThermalLayer::plain(p.r)
    });
    let [inside, outside] = example.surfaces;
    let result = resistance(&parts.collect::<Vec<_>>(), Surfaces { inside, outside }).unwrap();
    compare("upper", &[result.upper], &Some(example.upper));
    compare("lower", &[result.lower], &Some(example.lower));
    compare("U", &[result.u], &Some(example.u));
    compare("U printed", &[result.u], &Some(example.u_printed));
}

/// Two wet places, 1 m of sd between them and 0.5 m on either side: the inner one dries inward alone and the outer one
/// outward alone, until one is dry and the other dries both ways.
#[test]
fn two_wet_places_dry_from_their_own_sides_first() {
    // A drier room wets the inner place less, drier weather the outer one.
    assert!(two_wet_places(0.6, 0.8) && !two_wet_places(0.8, 0.5));
}

/// Whether the inner place has less.
fn two_wet_places(room: f64, weather: f64) -> bool {
    let wall = [Layer::new(0.1, 0.5), Layer::new(0.24, 1.0), Layer::new(0.05, 0.5)];
    let slab = Slab::new(&wall, Surfaces::of(HeatFlow::Horizontal)).unwrap();
    let period = DesignPeriod { indoor: humid(20.0, room), outdoor: humid(-10.0, weather), days: 60.0 };
    let after = |days| {
        let drying = DryingPeriod { pressure: 1200.0, saturation: 1700.0, days };
        design_period(&slab, period, Some(drying)).unwrap()
    };
    let spell = after(0.0);
    let [inner, outer] = spell.planes[..] else { panic!("{:?}", spell.planes) };
    assert_eq!((inner.place, outer.place), (SlabPlace::Interface(1), SlabPlace::Interface(2)));
    near("mass", spell.mass, inner.mass + outer.mass, 1e-12);
    assert_eq!((spell.residue, spell.drying_potential), (spell.mass, 0.0));
    // 2e-10 * 500 / 0.5 = 2e-7 kg/(m2 s) each, 0.01728 kg a day.
    near("rate", spell.drying_rate, 4e-7, 1e-18);
    let (less, more) = (inner.mass.min(outer.mass), inner.mass.max(outer.mass));
    let first = less / 0.01728;
    near("while both are wet", after(0.5 * first).residue, spell.mass - first * 0.01728, 1e-9);
    near("when one is dry", after(first).residue, more - less, 1e-9);
    // The other one then has 0.5 m on its own side and 1.5 m on the far one: a third more.
    near("a day later", after(first + 1.0).residue, more - less - 0.01728 * 4.0 / 3.0, 1e-9);
    let dry = first + (more - less) / (0.01728 * 4.0 / 3.0);
    near("in the end", after(dry + 0.01).residue, 0.0, 1e-12);
    assert!(design_period(&slab, DesignPeriod { days: -1.0, ..period }, None).is_err());
    inner.mass < outer.mass
}
