//! The facts for programs. The same input gives the same bytes.

use std::io::{self, Write};

use serde::Serialize;

use crate::facts::bend::Bend;
use crate::facts::face::{Coordinate, DropEvent, OPEN_HIGH, OPEN_LOW, StepKind};
use crate::facts::section::YearFacts;
use crate::facts::{AssemblyFacts, DetailFacts, vapor};
use crate::finding::Finding;
use crate::model::Axis;
use crate::output::escaped;
use crate::output::facts::assembly::where_;
use crate::output::facts::wanted;
use crate::output::json::FORMAT;
use crate::report::Checked;

/// One object with all details and assemblies.
///
/// # Errors
/// Those of `out`.
pub fn json(checked: &[Checked], only: &[String], out: &mut dyn Write) -> io::Result<()> {
    let details = checked.iter().flat_map(|file| {
        let named = file.facts.details.iter().filter(|facts| wanted(only, &facts.detail.name));
        named.map(|facts| detail(file, facts))
    });
    let assemblies = checked.iter().flat_map(|file| {
        let named = file.facts.assemblies.iter().filter(|facts| wanted(only, &facts.assembly.name));
        named.map(|facts| assembly(&file.source.name, facts))
    });
    let whole = Whole { format: FORMAT, details: details.collect(), assemblies: assemblies.collect() };
    escaped::pretty(&whole, out)?;
    writeln!(out)
}

#[derive(Serialize)]
struct Whole<'a> {
    format: u32,
    details: Vec<Detail<'a>>,
    assemblies: Vec<Assembly<'a>>,
}

#[derive(Serialize)]
struct Detail<'a> {
    file: &'a str,
    name: &'a str,
    kind: &'a str,
    title: Option<&'a str>,
    sheet: Option<&'a str>,
    joins: Vec<&'a str>,
    /// No finding is open in it.
    passed: bool,
    laps: Vec<Lap<'a>>,
    folds: Vec<Fold>,
    /// The plane stretches of the face, up from below and along from the left: with them a place on the face has its place on the
    /// real section.
    sides: Vec<Side>,
    drops: Vec<Drop<'a>>,
    transitions: Vec<Transition<'a>>,
}

#[derive(Serialize)]
struct Lap<'a> {
    over: &'a str,
    under: &'a str,
    run: &'static str,
    length_mm: f64,
    shingled: bool,
    sealed: bool,
    seam_watertight: bool,
    /// From level, 0, to plumb, 90. Null where nobody says, or the face turns under the lap.
    slope_deg: Option<f64>,
}

#[derive(Serialize)]
struct Fold {
    kind: &'static str,
    axis: &'static str,
    at_mm: f64,
    /// By how much the face turns there: toward the building less than 0.
    angle_deg: Option<f64>,
}

#[derive(Serialize)]
struct Side {
    axis: &'static str,
    /// Null where it runs off the detail.
    from_mm: Option<f64>,
    to_mm: Option<f64>,
    /// The direction in which it runs in the drawing, counterclockwise from the right: 90 for a wall in section.
    heading_deg: f64,
}

#[derive(Serialize)]
struct Drop<'a> {
    event: &'static str,
    pieces: Vec<&'a str>,
    ends: Vec<&'static str>,
    path: Vec<Step<'a>>,
}

#[derive(Serialize)]
struct Step<'a> {
    piece: &'a str,
    /// Null where the piece runs off the detail.
    height_mm: Option<f64>,
    event: &'static str,
}

#[derive(Serialize)]
struct Transition<'a> {
    control: &'static str,
    from: &'a str,
    to: &'a str,
    continuous: bool,
}

#[derive(Serialize)]
#[allow(non_snake_case)]
struct Assembly<'a> {
    file: &'a str,
    name: &'a str,
    kind: &'static str,
    title: Option<&'a str>,
    climate: Option<&'a str>,
    r_value_m2K_W: Option<f64>,
    u_value_W_m2K: Option<f64>,
    layers: Vec<Layer<'a>>,
    condensation: Option<Condensation>,
    /// Null without a design condition in the climate, or where a value that it needs is unknown.
    design_condition: Option<Design>,
    drying_months: Option<u32>,
    f_rsi: Option<f64>,
    /// The room that condensation and drying are computed for, and where its author has it from.
    indoors: Option<&'a str>,
    climate_source: Option<&'a str>,
}

#[derive(Serialize)]
#[allow(non_snake_case)]
struct Layer<'a> {
    name: &'a str,
    material: &'a str,
    title: Option<&'a str>,
    controls: Vec<&'static str>,
    thickness_mm: Option<f64>,
    r_value_m2K_W: Option<f64>,
    /// Equivalent air layer by dry-cup and wet-cup values.
    sd_dry_m: Option<f64>,
    sd_wet_m: Option<f64>,
    permeance_perm: Option<f64>,
    vapor_class: Option<&'static str>,
    /// Null for a layer that moisture does not harm, and where nothing is in the way.
    dries_out_perm: Option<f64>,
    dries_in_perm: Option<f64>,
}

#[derive(Serialize)]
struct Condensation {
    peak_g_m2: f64,
    residue_g_m2: f64,
    months: [f64; 12],
    /// The same with the names of the months.
    by_month: Vec<Month>,
}

#[derive(Serialize)]
struct Month {
    month: &'static str,
    held_g_m2: f64,
}

/// The design condition of the section that gathers the most condensate.
#[derive(Serialize)]
#[allow(non_snake_case)]
struct Design {
    condensate_kg_m2: f64,
    drying_kg_m2: f64,
    residue_kg_m2: f64,
    /// Inside first.
    interfaces: Vec<Interface>,
}

#[derive(Serialize)]
#[allow(non_snake_case)]
struct Interface {
    at: String,
    temperature_C: f64,
    saturation_Pa: f64,
    pressure_Pa: f64,
    condenses: bool,
}

fn design(facts: &AssemblyFacts) -> Option<Design> {
    let spells = facts.sections().iter().filter_map(|section| Some((section, section.design.as_ref()?)));
    let (section, spell) = spells.max_by(|(_, a), (_, b)| a.mass.total_cmp(&b.mass))?;
    let interfaces = spell.profile.interfaces().map(|point| Interface {
        at: where_(facts, section.through, point.place),
        temperature_C: point.temperature,
        saturation_Pa: point.saturation,
        pressure_Pa: point.pressure,
        condenses: point.condensing > 0.0,
    });
    Some(Design {
        condensate_kg_m2: spell.mass,
        drying_kg_m2: spell.drying_potential,
        residue_kg_m2: spell.residue,
        interfaces: interfaces.collect(),
    })
}

fn detail<'a>(checked: &'a Checked, facts: &'a DetailFacts) -> Detail<'a> {
    let name = |piece: usize| &*facts.detail.pieces[piece].name;
    let side = |which: usize| {
        let last = facts.assemblies.len().saturating_sub(1);
        facts.assemblies.get(which.min(last)).map_or("", |a| &*a.assembly.name)
    };
    let own = |finding: &&Finding| finding.open() && finding.item.as_ref() == Some(&facts.detail.name);
    Detail {
        file: &checked.source.name,
        name: &facts.detail.name,
        kind: &facts.detail.kind,
        title: facts.detail.title.as_deref(),
        sheet: facts.detail.sheet.as_deref(),
        joins: facts.assemblies.iter().map(|a| &*a.assembly.name).collect(),
        passed: checked.findings.iter().find(own).is_none() && !facts.doubtful,
        laps: facts
            .face
            .laps
            .iter()
            .map(|lap| Lap {
                over: name(lap.over),
                under: name(lap.under),
                run: lap.run.word(),
                length_mm: millimetres(lap.length),
                shingled: lap.shingled,
                sealed: lap.sealed,
                seam_watertight: lap.watertight(),
                slope_deg: facts.slopes.over(facts.overlap(lap)).map(|slope| degrees(slope.si.atan())),
            })
            .collect(),
        folds: facts
            .detail
            .folds
            .iter()
            .enumerate()
            .map(|(index, fold)| Fold {
                kind: fold.kind.word(),
                axis: if fold.axis == Axis::Up { "up" } else { "along" },
                at_mm: 1000.0 * fold.at.si,
                angle_deg: facts.fold_angle(index).map(degrees),
            })
            .collect(),
        sides: [Axis::Up, Axis::Along].into_iter().flat_map(|axis| sides(facts, axis)).collect(),
        drops: facts.face.drops.events.iter().map(|event| drop(facts, event)).collect(),
        transitions: facts
            .face
            .transitions
            .iter()
            .map(|t| Transition {
                control: t.control.word(),
                from: side(t.sides[0]),
                to: side(t.sides[1]),
                continuous: t.continuous,
            })
            .collect(),
    }
}

fn sides(facts: &DetailFacts, axis: Axis) -> impl Iterator<Item = Side> {
    let end = |at: Coordinate| (at != OPEN_LOW && at != OPEN_HIGH).then(|| millimetres(at));
    Bend::new(facts, axis).legs.into_iter().map(move |leg| Side {
        axis: if axis == Axis::Up { "up" } else { "along" },
        from_mm: end(leg.extent.low),
        to_mm: end(leg.extent.high),
        heading_deg: degrees(leg.heading.to_radians()),
    })
}

fn drop<'a>(facts: &'a DetailFacts, event: &DropEvent) -> Drop<'a> {
    let name = |piece: usize| &*facts.detail.pieces[piece].name;
    let steps = event.worst().map_or(&[][..], |end| facts.face.drops.trail(end));
    Drop {
        event: event.event.word(),
        pieces: event.pieces.iter().flatten().map(|piece| name(*piece)).collect(),
        ends: event.ends.iter().map(|end| end.end.word()).collect(),
        path: steps
            .iter()
            .map(|step| Step {
                piece: name(step.piece),
                height_mm: (step.up != OPEN_HIGH && step.up != OPEN_LOW).then(|| millimetres(step.up)),
                event: word(step.kind),
            })
            .collect(),
    }
}

fn word(kind: StepKind) -> &'static str {
    match kind {
        StepKind::StartsOn => "starts-on",
        StepKind::StartsBehind => "starts-behind",
        StepKind::StartsIn => "starts-in",
        StepKind::PassesBehind => "passes-behind",
        StepKind::SealLost => "seal-lost",
        StepKind::MovesOnto => "moves-onto",
        StepKind::LandsOn => "lands-on",
        StepKind::BacksUp => "backs-up",
        StepKind::RunsOut => "runs-out",
        StepKind::Overtops => "overtops",
        StepKind::Wets => "wets",
        StepKind::Enters => "enters",
        StepKind::FallsOff => "falls-off",
        StepKind::Drains => "drains",
        StepKind::ReachesValley => "reaches-valley",
        StepKind::LedOff => "led-off",
        StepKind::Behind => "behind",
    }
}

fn assembly<'a>(file: &'a str, facts: &'a AssemblyFacts) -> Assembly<'a> {
    let thermal = facts.thermal.as_ref().ok().copied().flatten();
    let years: Vec<&YearFacts> = facts.sections().iter().filter_map(|section| section.year.as_ref()).collect();
    let worst = years.iter().max_by(|a, b| a.condensation.peak.total_cmp(&b.condensation.peak));
    let perm = |permeance: Option<f64>| permeance.map(|p| p / vapor::PERM).filter(|p| p.is_finite());
    let layers = facts.assembly.layers.iter().zip(&facts.layers).enumerate().map(|(index, (said, layer))| {
        let sensitive = said.material.sensitive;
        Layer {
            name: &said.name,
            material: &said.material.name,
            title: said.material.title.as_deref(),
            controls: said.controls().iter().map(|control| control.word()).collect(),
            thickness_mm: layer.thickness.map(|metres| 1000.0 * metres),
            r_value_m2K_W: layer.resistance.as_ref().ok().copied(),
            sd_dry_m: layer.sd.as_ref().ok().map(|sd| sd.dry),
            sd_wet_m: layer.sd.as_ref().ok().map(|sd| sd.wet),
            permeance_perm: perm(layer.sd.as_ref().ok().map(|sd| vapor::permeance(sd.dry))),
            vapor_class: facts.class(index).ok(),
            dries_out_perm: perm(facts.dries_out(index).ok().filter(|_| sensitive)),
            dries_in_perm: perm(facts.dries_in(index).ok().filter(|_| sensitive)),
        }
    });
    Assembly {
        file,
        name: &facts.assembly.name,
        kind: facts.assembly.kind.word(),
        title: facts.assembly.title.as_deref(),
        climate: facts.assembly.climate.as_ref().map(|climate| &*climate.name),
        r_value_m2K_W: thermal.map(|r| r.mean),
        u_value_W_m2K: thermal.map(|r| r.u),
        layers: layers.collect(),
        condensation: worst.map(|year| Condensation {
            peak_g_m2: 1000.0 * year.condensation.peak,
            residue_g_m2: 1000.0 * year.condensation.residue,
            months: std::array::from_fn(|month| 1000.0 * year.condensation.held(month)),
            by_month: MONTHS
                .iter()
                .enumerate()
                .map(|(at, month)| Month { month, held_g_m2: 1000.0 * year.condensation.held(at) })
                .collect(),
        }),
        design_condition: design(facts),
        drying_months: (0..facts.layers.len()).filter_map(|layer| facts.drying_months(layer)).max(),
        indoors: facts.room.as_deref(),
        climate_source: facts.assembly.climate.as_ref().and_then(|climate| climate.source.as_deref()),
        f_rsi: years.iter().map(|year| year.surface.reached).min_by(f64::total_cmp),
    }
}

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Without the noise of the last places.
fn degrees(radians: f64) -> f64 {
    (radians.to_degrees() * 1e6).round() / 1e6
}

fn millimetres(coordinate: Coordinate) -> f64 {
    coordinate as f64 / 1e6
}
