//! A year of condensation for 10,000 assemblies. The aim is under 100 microseconds for one.

use divan::{Bencher, counter::ItemsCount};
use headlap::physics::*;

fn main() {
    divan::main();
}

const ASSEMBLIES: usize = 10_000;

/// Greensboro, as it ships in rules/climates: C and %.
const OUTDOOR: [(f64, f64); 12] = [
    (0.3, 73.2),
    (5.0, 70.4),
    (11.4, 66.8),
    (14.7, 60.8),
    (19.0, 68.6),
    (23.6, 75.2),
    (25.4, 71.9),
    (24.8, 73.4),
    (20.1, 76.9),
    (13.1, 79.1),
    (10.8, 65.9),
    (4.2, 69.5),
];

fn year(colder: f64) -> Year {
    let outdoor = OUTDOOR.map(|(t, phi)| Air::humid(t - colder, phi / 100.0).unwrap());
    Year::new(&outdoor, Indoor::Fixed(Air::humid(21.0, 0.5).unwrap())).unwrap()
}

/// Framed walls that differ in insulation, retarder and sheathing: some dry, some wet, some never dry again.
fn assemblies() -> Vec<[Layer; 6]> {
    let pick = |i: usize, step: usize, of: &[f64]| of[i / step % of.len()];
    let wall = |i| {
        [
            Layer::new(0.05, 0.1),
            Layer::new(0.0, pick(i, 1, &[0.02, 0.2, 2.0, 8.0, 50.0])),
            Layer::new(pick(i, 5, &[2.5, 3.5, 4.5, 5.5]), 0.16),
            Layer::new(0.09, pick(i, 20, &[0.33, 0.84, 2.4])),
            Layer::new(pick(i, 60, &[0.0, 0.7, 1.5]), pick(i, 180, &[0.07, 1.5, 9.0])),
            Layer::new(0.0, pick(i, 540, &[0.02, 0.2, 2.0])),
        ]
    };
    (0..ASSEMBLIES).map(wall).collect()
}

#[divan::bench(args = [0.0, 10.0])]
fn twelve_months(bencher: Bencher, colder: f64) {
    let (year, walls) = (year(colder), assemblies());
    bencher.counter(ItemsCount::new(ASSEMBLIES)).bench(|| {
        let residue = |wall: &[Layer; 6]| {
            let slab = Slab::new(wall, Surfaces::of(HeatFlow::Horizontal)).unwrap();
            condensation(&slab, &year).unwrap().residue
        };
        walls.iter().map(residue).sum::<f64>()
    });
}

#[divan::bench]
fn drying_of_the_sheathing(bencher: Bencher) {
    let (year, walls) = (year(0.0), assemblies());
    bencher.counter(ItemsCount::new(ASSEMBLIES)).bench(|| {
        let months = |wall: &[Layer; 6]| {
            let wetting = Wetting { layer: 3, mass: 1.0, start: 9 };
            drying(wall, Surfaces::of(HeatFlow::Horizontal), &year, wetting).unwrap().months.unwrap_or(120)
        };
        walls.iter().map(months).sum::<u32>()
    });
}
