//! The facts for programs. The same input gives the same bytes.

use std::io::{self, Write};

use crate::facts::bend::Bend;
use crate::facts::face::{Coordinate, DropEvent, OPEN_HIGH, OPEN_LOW, StepKind};
use crate::facts::section::YearFacts;
use crate::facts::{AssemblyFacts, DetailFacts, vapor};
use crate::finding::Finding;
use crate::model::Axis;
use crate::output::escaped;
use crate::output::facts::assembly::where_;
use crate::output::facts::shape::{
    Assembly, Condensation, Design, Detail, Drop, Fold, Interface, Lap, Layer, Month, Side, Step, Transition, Whole,
};
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
