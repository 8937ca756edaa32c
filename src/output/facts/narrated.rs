//! The numbers of an assembly in sentences, for a screen reader: no columns, each number with its name.

use std::io::{self, Write};

use crate::facts::section::{Section, Through};
use crate::facts::{AssemblyFacts, vapor};
use crate::output::facts::assembly::{MONTHS, layer_name, place_in};
use crate::output::place::line_of;
use crate::output::words::sentence;
use crate::output::wrap::wrap;
use crate::output::{Look, visible, words};
use crate::physics::{Profile, SlabPlace};
use crate::text::Source;

pub fn assembly(facts: &AssemblyFacts, source: &Source, look: Look, out: &mut dyn Write) -> io::Result<()> {
    let mut said = vec![head(facts, source)];
    said.extend(thermal(facts));
    if let (Some(room), Some(climate)) = (&facts.room, &facts.assembly.climate) {
        said.push(format!("The climate is {}, indoors {}", visible(&climate.name), visible(room)));
    }
    said.extend((0..facts.layers.len()).map(|index| layer(facts, index)));
    facts.sections().iter().for_each(|section| said.extend(self::section(facts, section)));
    if facts.sections().is_empty() && facts.assembly.climate.is_some() {
        let lacks = facts.lacks.iter();
        said.extend(lacks.map(|lack| {
            format!("Condensation is not known: {} states no {}", visible(&lack.material.name), lack.property)
        }));
    }
    for line in said {
        writeln!(out, "{}", wrap(&sentence(&line), "", look.width))?;
    }
    writeln!(out)
}

fn head(facts: &AssemblyFacts, source: &Source) -> String {
    let assembly = &facts.assembly;
    let title = assembly.title.as_ref().map_or(String::new(), |title| format!(", \"{}\"", visible(title)));
    let place = line_of(source, assembly.name_span);
    format!("Assembly {}, {}{title}, at {place}", visible(&assembly.name), assembly.kind.word())
}

fn thermal(facts: &AssemblyFacts) -> Option<String> {
    match &facts.thermal {
        Ok(Some(r)) => Some(format!("R is {:.3} m2K/W and U is {:.3} W/m2K, by ISO 6946, air to air", r.mean, r.u)),
        Ok(None) => None,
        Err(lack) => {
            Some(format!("R and U are not known: {} states no {}", visible(&lack.material.name), lack.property))
        }
    }
}

/// `Layer 1 from outside, wrap: 0.2 mm; R 0.000 m2K/W; sd 0.020 m dry, 0.020 m wet; class III.`
fn layer(facts: &AssemblyFacts, index: usize) -> String {
    let (layer, said) = (&facts.layers[index], &facts.assembly.layers[index]);
    let mut parts = Vec::new();
    parts.extend(layer.thickness.map(|t| format!("{:.1} mm thick", 1000.0 * t)));
    parts.extend(layer.resistance.as_ref().ok().map(|r| format!("R {r:.3} m2K/W")));
    if let Ok(sd) = &layer.sd {
        parts.push(format!("sd {:.3} m dry, {:.3} m wet", sd.dry, sd.wet));
        parts.push(format!("{} dry", perm(vapor::permeance(sd.dry))));
    }
    parts.extend(facts.class(index).map(|class| format!("vapor class {class}")));
    if said.material.sensitive {
        parts.extend(facts.dries_out(index).ok().map(|way| format!("dries outward at {}", perm(way))));
        parts.extend(facts.dries_in(index).ok().map(|way| format!("dries inward at {}", perm(way))));
    }
    if let (Some(frame), Some(between)) = (&layer.frame, &said.between) {
        parts.push(format!("between {} on {:.1} % of the area", visible(&between.material.name), 100.0 * frame.share));
    }
    let parts = if parts.is_empty() { "nothing is known of it".to_owned() } else { parts.join("; ") };
    format!("Layer {} from outside, {}: {parts}", index + 1, visible(&said.name))
}

fn perm(value: f64) -> String {
    if value.is_infinite() { "no resistance to vapor".to_owned() } else { format!("{} perm", vapor::perms(value)) }
}

fn section(facts: &AssemblyFacts, section: &Section) -> Vec<String> {
    let mut said = Vec::new();
    let through = section.through.words();
    if let Some(year) = &section.year {
        said.push(format!("{}, in {}, by ISO 13788", words::capital(through), MONTHS[year.month]));
        said.extend(profile(facts, section.through, &year.profile));
        let wet = &year.condensation;
        if wet.planes.is_empty() {
            said.push("No month condenses".to_owned());
        }
        for plane in &wet.planes {
            let held = plane.held.iter().zip(MONTHS).filter(|(mass, _)| **mass > 0.0);
            let held: Vec<String> = held.map(|(mass, month)| format!("{month} {:.0}", 1000.0 * mass)).collect();
            let at = spot(facts, section.through, plane.place);
            said.push(format!("Condensate {at} at the end of the month, in g/m2: {}", held.join(", ")));
        }
        if !wet.planes.is_empty() {
            let (peak, left) = (1000.0 * wet.peak, 1000.0 * wet.residue);
            said.push(format!("The peak is {peak:.1} g/m2, and {left:.1} g/m2 is left after the year"));
        }
        let (reached, needed) = (year.surface.reached, year.surface.needed);
        said.push(format!("At the inner surface fRsi is {reached:.3}; {needed:.3} is needed"));
        for (layer, drying) in &year.drying {
            let name = layer_name(facts, section.through, *layer);
            said.push(match drying.months {
                Some(months) => {
                    let months = words::counted(months as usize, "month");
                    format!("1 kg/m2 of water in the middle of {name} dries in {months}")
                }
                None => format!("1 kg/m2 of water in the middle of {name} does not dry in ten years"),
            });
        }
    }
    if let Some(design) = &section.design {
        said.push(format!("{}, in the design condition", words::capital(through)));
        said.extend(profile(facts, section.through, &design.profile));
        let [mass, drying, left] = [design.mass, design.drying_potential, design.residue];
        said.push(format!("{mass:.3} kg/m2 condenses, {drying:.3} kg/m2 could dry, {left:.3} kg/m2 is left"));
    }
    said
}

/// Interfaces inside first, as the calculation runs.
fn profile(facts: &AssemblyFacts, through: Through, profile: &Profile) -> Vec<String> {
    let points = profile.interfaces();
    let entries = points.into_iter().map(|point| {
        let wet = if point.condensing > 0.0 { "; it is wet there" } else { "" };
        format!(
            "{} it is {:.1} C; saturation pressure {:.0} Pa, vapor pressure {:.0} Pa{wet}",
            words::capital(&spot(facts, through, point.place)),
            point.temperature,
            point.saturation,
            point.pressure
        )
    });
    entries.collect()
}

fn spot(facts: &AssemblyFacts, through: Through, place: SlabPlace) -> String {
    let words = place_in(facts, through, place, |inner, outer| format!("between {inner} and {outer}"));
    match place {
        SlabPlace::Interface(_) if words.ends_with("surface") => format!("at the {words}"),
        _ => words,
    }
}
