//! The numbers of an assembly as text, arranged so that a person can follow the calculation.

use std::io::{self, Write};

use crate::facts::section::{Section, Through, YearFacts};
use crate::facts::{AssemblyFacts, vapor};
use crate::output::place::line_of;
use crate::output::{visible, words};
use crate::physics::{Profile, SlabPlace};
use crate::text::Source;

pub(super) const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

pub fn text(facts: &AssemblyFacts, source: &Source, out: &mut dyn Write) -> io::Result<()> {
    let assembly = &facts.assembly;
    let title = assembly.title.as_ref().map_or(String::new(), |title| format!("  {}", visible(title)));
    let place = line_of(source, assembly.name_span);
    writeln!(out, "assembly {}  {}{title}  ({place})", visible(&assembly.name), assembly.kind.word())?;
    match &facts.thermal {
        Ok(Some(r)) => {
            writeln!(out, "  R {:.3} m2K/W   U {:.3} W/m2K   (ISO 6946, air to air)", r.mean, r.u)?;
            if metal(facts) {
                writeln!(out, "  metal studs: effective R of ASHRAE 90.1 table A3.3, from memory")?;
            }
            if facts.layers.iter().any(|layer| layer.frame.as_ref().is_some_and(|frame| !frame.metal)) {
                writeln!(
                    out,
                    "  framed: R upper limit {:.3}, lower limit {:.3}, error {:.0} %; by parallel paths U {:.3}",
                    r.upper,
                    r.lower,
                    100.0 * r.error,
                    r.u_parallel
                )?;
            }
        }
        Ok(None) if metal(facts) => writeln!(out, "  R and U: unknown; no published value covers these metal studs")?,
        Ok(None) => {}
        Err(lack) => writeln!(out, "  R and U: unknown; {} states no {}", visible(&lack.material.name), lack.property)?,
    }
    if let (Some(room), Some(climate)) = (&facts.room, &assembly.climate) {
        let source = climate.source.as_ref().map_or(String::new(), |source| format!(" ({})", visible(source)));
        writeln!(out, "  climate {}, indoors {}{source}", visible(&climate.name), visible(room))?;
    }
    layers(facts, out)?;
    for section in facts.sections() {
        section_text(facts, section, out)?;
    }
    if facts.sections().is_empty() && assembly.climate.is_some() {
        for lack in &facts.lacks {
            writeln!(out, "  condensation: unknown; {} states no {}", visible(&lack.material.name), lack.property)?;
        }
    }
    writeln!(out)
}

fn metal(facts: &AssemblyFacts) -> bool {
    facts.layers.iter().any(|layer| layer.frame.as_ref().is_some_and(|frame| frame.metal))
}

/// Outside first, as an assembly is written.
fn layers(facts: &AssemblyFacts, out: &mut dyn Write) -> io::Result<()> {
    let head = format!(
        "  {:<24} {:>9} {:>8} {:>9} {:>9} {:>9} {:>5} {:>10} {:>10}",
        "layer, outside first", "mm", "R m2K/W", "sd dry m", "sd wet m", "perm dry", "class", "dries out", "dries in"
    );
    writeln!(out, "{}", head.trim_end())?;
    for (index, layer) in facts.layers.iter().enumerate() {
        let said = &facts.assembly.layers[index];
        let sd = layer.sd.as_ref().ok();
        let number = |value: Option<f64>, places: usize| value.map_or("?".to_string(), |v| format!("{v:.places$}"));
        let perm = |value: Option<f64>| match value {
            Some(value) if value.is_infinite() => "free".to_string(),
            Some(value) => vapor::perms(value),
            None => "?".to_string(),
        };
        let ways = |way: Option<f64>| if said.material.sensitive { perm(way) } else { String::new() };
        let line = format!(
            "  {:<24} {:>9} {:>8} {:>9} {:>9} {:>9} {:>5} {:>10} {:>10}",
            visible(&said.name),
            number(layer.thickness.map(|t| t * 1000.0), 1),
            number(layer.resistance.as_ref().ok().copied(), 3),
            number(sd.map(|sd| sd.dry), 3),
            number(sd.map(|sd| sd.wet), 3),
            perm(sd.map(|sd| vapor::permeance(sd.dry))),
            facts.class(index).unwrap_or("?"),
            ways(facts.dries_out(index).ok()),
            ways(facts.dries_in(index).ok()),
        );
        writeln!(out, "{}", line.trim_end())?;
        if let (Some(frame), Some(said)) = (&layer.frame, &said.between) {
            let line = format!(
                "    between {:<16} {:>9} {:>8} {:>9} {:>9}   {:.1} % of the area",
                visible(&said.material.name),
                "",
                number(frame.resistance.as_ref().ok().copied(), 3),
                number(frame.sd.as_ref().ok().map(|sd| sd.dry), 3),
                number(frame.sd.as_ref().ok().map(|sd| sd.wet), 3),
                100.0 * frame.share
            );
            writeln!(out, "{}", line.trim_end())?;
        }
    }
    Ok(())
}

fn section_text(facts: &AssemblyFacts, section: &Section, out: &mut dyn Write) -> io::Result<()> {
    if let Some(year) = &section.year {
        year_text(facts, section, year, out)?;
    }
    if let Some(design) = &section.design {
        writeln!(out, "  {}, design condition:", section.through.words())?;
        profile(facts, section.through, &design.profile, out)?;
        writeln!(
            out,
            "    condensate {:.3} kg/m2; could dry {:.3} kg/m2; left {:.3} kg/m2",
            design.mass, design.drying_potential, design.residue
        )?;
    }
    Ok(())
}

fn year_text(facts: &AssemblyFacts, section: &Section, year: &YearFacts, out: &mut dyn Write) -> io::Result<()> {
    let wet = &year.condensation;
    writeln!(out, "  {}, {} (ISO 13788):", section.through.words(), MONTHS[year.month])?;
    profile(facts, section.through, &year.profile, out)?;
    if wet.planes.is_empty() {
        writeln!(out, "    no month condenses")?;
    } else {
        writeln!(out, "    {:<36} {}", "g/m2 at the end of the month", MONTHS.map(|m| format!("{m:>5}")).join(""))?;
        for plane in &wet.planes {
            let held = plane.held.map(|mass| format!("{:>5.0}", 1000.0 * mass)).join("");
            writeln!(out, "    {:<36} {held}", where_(facts, section.through, plane.place))?;
        }
        writeln!(out, "    peak {:.1} g/m2, left after the year {:.1} g/m2", 1000.0 * wet.peak, 1000.0 * wet.residue)?;
    }
    writeln!(out, "    inner surface: fRsi {:.3}, needed {:.3}", year.surface.reached, year.surface.needed)?;
    for (layer, drying) in &year.drying {
        let name = layer_name(facts, section.through, *layer);
        match drying.months {
            Some(months) => {
                let months = words::counted(months as usize, "month");
                writeln!(out, "    1 kg/m2 in the middle of {name}: dry after {months}")?;
            }
            None => writeln!(out, "    1 kg/m2 in the middle of {name}: not dry after ten years")?,
        }
    }
    Ok(())
}

/// Interfaces inside first, as the calculation runs.
fn profile(facts: &AssemblyFacts, through: Through, profile: &Profile, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "    {:<36} {:>8} {:>9} {:>9}", "interface, inside first", "C", "psat Pa", "p Pa")?;
    for point in profile.interfaces() {
        writeln!(
            out,
            "    {:<36} {:>8.1} {:>9.0} {:>9.0}{}",
            where_(facts, through, point.place),
            point.temperature,
            point.saturation,
            point.pressure,
            if point.condensing > 0.0 { "  wet" } else { "" }
        )?;
    }
    Ok(())
}

/// Physics counts inside first, the author outside first.
pub(super) fn where_(facts: &AssemblyFacts, through: Through, place: SlabPlace) -> String {
    place_in(facts, through, place, |inner, outer| format!("{inner} | {outer}"))
}

/// The same, with an interface in other words.
pub(super) fn place_in(
    facts: &AssemblyFacts,
    through: Through,
    place: SlabPlace,
    between: fn(String, String) -> String,
) -> String {
    let count = facts.assembly.layers.len();
    let name = |from_inside: usize| {
        let index = count.checked_sub(from_inside + 1);
        index.map_or(String::new(), |index| layer_name(facts, through, index))
    };
    match place {
        SlabPlace::Interface(0) => "inner surface".to_string(),
        SlabPlace::Interface(n) if n == count => "outer surface".to_string(),
        SlabPlace::Interface(n) => between(name(n - 1), name(n)),
        SlabPlace::Within { layer, depth } => format!("in {}, {:.0} % deep", name(layer), 100.0 * depth),
    }
}

/// The path through the frames meets the frame where the others meet what lies between.
pub(super) fn layer_name(facts: &AssemblyFacts, through: Through, index: usize) -> String {
    let layer = &facts.assembly.layers[index];
    let frame = layer.between.as_ref().filter(|_| through == Through::Frames);
    visible(frame.map_or(&layer.name, |frame| &frame.material.name)).into_owned()
}
