//! The facts of a detail as text.

use std::io::{self, Write};

use crate::facts::DetailFacts;
use crate::facts::face::DropEvent;
use crate::facts::vocabulary::{Fact, Kind};
use crate::output::words::sentence;
use crate::output::wrap::wrap;
use crate::output::{Look, place::line_of};
use crate::output::{visible, words};
use crate::text::Source;

pub fn text(facts: &DetailFacts, source: &Source, look: Look, out: &mut dyn Write) -> io::Result<()> {
    let detail = &facts.detail;
    let title = detail.title.as_ref().map_or(String::new(), |title| format!("  {}", visible(title)));
    let place = line_of(source, detail.name_span);
    if look.narrate {
        let title = title.trim();
        let called = if title.is_empty() { String::new() } else { format!(", \"{title}\"") };
        writeln!(out, "Detail {}, {}{called}, at {place}.", visible(&detail.name), detail.kind)?;
    } else {
        writeln!(out, "detail {}  {}{title}  ({place})", visible(&detail.name), detail.kind)?;
    }
    let name = |piece: usize| detail.pieces[piece].name.to_string();
    section(
        out,
        "laps",
        facts.face.laps.iter().map(|lap| {
            let mut words = format!(
                "{} over {}, {}, {}",
                name(lap.over),
                name(lap.under),
                lap.run.word(),
                facts.length(Some(lap.over), lap.length)
            );
            if lap.run.word() == "head" {
                words.push_str(if lap.shingled { ", shingled" } else { ", not shingled" });
            }
            if lap.sealed {
                words.push_str(", sealed");
            }
            if let Some(third) = lap.bridged {
                words.push_str(&format!(", bridged by {}", name(third)));
            }
            if lap.led_out {
                words.push_str(", drained in between");
            }
            words
        }),
        look,
    )?;
    if !look.narrate {
        writeln!(out, "  drops")?;
    }
    for (index, event) in facts.face.drops.events.iter().enumerate() {
        if look.narrate {
            labeled(out, "drops", &event_words(facts, event), look)?;
            for (step, n) in Fact::Drop(facts, index).trail().into_iter().zip(1..) {
                labeled(out, &format!("step {n}"), &step.message, look)?;
            }
            continue;
        }
        writeln!(out, "    {}", visible(&event_words(facts, event)))?;
        for step in Fact::Drop(facts, index).trail() {
            writeln!(out, "{}", wrap(&visible(&step.message), "      . ", look.width))?;
        }
    }
    section(
        out,
        "continuity",
        facts.face.transitions.iter().map(|transition| {
            let mut between: Vec<&str> =
                transition.sides.iter().map(|side| &*facts.assemblies[*side].assembly.name).collect();
            between.dedup();
            let state = match (transition.continuous, transition.shown, transition.nearest) {
                (true, ..) => "goes on".to_string(),
                (_, [true, true], Some((near, far))) => {
                    let somewhere = if transition.partly { " at some places" } else { "" };
                    format!("breaks{somewhere} between {} and {}", name(near), name(far))
                }
                (_, [true, true], None) => "breaks".to_string(),
                _ => "not shown on both sides".to_string(),
            };
            let path = transition.path.as_ref().map_or(String::new(), |path| {
                let between = if look.narrate { ", then " } else { " - " };
                format!(": {}", path.iter().map(|piece| name(*piece)).collect::<Vec<_>>().join(between))
            });
            format!("{} across {}: {state}{path}", transition.control.word(), between.join(" and "))
        }),
        look,
    )?;
    section(
        out,
        "bonds",
        facts.face.bonds.iter().map(|bond| {
            let width =
                bond.width.map_or(String::new(), |width| format!(", {} wide", facts.length(Some(bond.piece), width)));
            let contact = match (bond.contact, bond.dry) {
                (false, _) => ", never touches it",
                (true, true) => ", touches it with its dry back",
                (true, false) => "",
            };
            format!("{} to {}{width}{contact}", name(bond.piece), name(bond.onto))
        }),
        look,
    )?;
    section(
        out,
        "seals",
        facts.face.seals.iter().map(|seal| {
            let said = &detail.seals[seal.seal];
            let touches = if seal.touches { "" } else { ", where the two do not meet" };
            let width = said.width.map_or(String::new(), |width| format!(", across a joint {width} wide"));
            format!(
                "{} to {} with {}{width}{touches}",
                name(said.first.index),
                name(said.second.index),
                said.sealant.name
            )
        }),
        look,
    )?;
    section(
        out,
        "fasteners",
        facts.face.fastenings.iter().map(|field| {
            let said = &detail.fastenings[field.fasten];
            let list = |words: &str, pieces: &[usize]| match pieces {
                [] => String::new(),
                some => format!(", {words} {}", some.iter().map(|p| name(*p)).collect::<Vec<_>>().join(", ")),
            };
            format!(
                "{} with {} every {}{}{}{}{}",
                name(said.piece.index),
                said.fastener.name,
                said.every,
                list("under tape", &field.taped_over),
                list("under flashing", &field.flashed_over),
                list("through", &field.pierces),
                list("through tape", &field.pierces_tapes)
            )
        }),
        look,
    )?;
    section(
        out,
        "open edges",
        facts.face.edges.iter().filter(|edge| edge.free).map(|edge| {
            let sealed = if edge.sealed { "sealed" } else { "not sealed" };
            format!(
                "{} {} at {}: {sealed}",
                edge.side.word(),
                name(edge.piece),
                facts.length(Some(edge.piece), edge.at)
            )
        }),
        look,
    )?;
    section(
        out,
        "folds",
        facts.face.turns.iter().map(|turn| {
            let fold = detail.folds[turn.fold].kind.word();
            let runs = match (turn.piece, turn.past) {
                (None, _) => "no sheet reaches it".to_string(),
                (Some(piece), None) => format!("{} runs through", name(piece)),
                (Some(piece), Some(past)) => format!("{} runs {} past", name(piece), facts.length(Some(piece), past)),
            };
            let angle = facts.fold_angle(turn.fold).map_or(String::new(), |angle| {
                format!(", turned {} degrees", (10.0 * angle.to_degrees()).round() / 10.0)
            });
            format!("{fold}{angle}: {runs}{}", if turn.spanned { ", spanned by a sealed piece" } else { "" })
        }),
        look,
    )?;
    section(
        out,
        "tucked in",
        facts.face.tucks.iter().map(|tuck| {
            let fixed = if tuck.fixed { ", which is fixed there by then" } else { "" };
            format!("{} behind {}{fixed}", name(tuck.piece), name(tuck.behind))
        }),
        look,
    )?;
    let circles = facts
        .items(Kind::Stack)
        .iter()
        .map(|stack| stack.pieces().iter().map(|piece| piece.name().to_string()).collect::<Vec<_>>().join(", "));
    section(out, "circular order", circles, look)?;
    writeln!(out)
}

fn event_words(facts: &DetailFacts, event: &DropEvent) -> String {
    let pieces: Vec<&str> = event.pieces.iter().flatten().map(|piece| &*facts.detail.pieces[*piece].name).collect();
    let ends: Vec<&str> = event.ends.iter().map(|end| end.end.word()).collect();
    match pieces.as_slice() {
        [] => event.event.word().to_string(),
        pieces => format!("{} ({}), ends {}", event.event.word(), pieces.join(", "), ends.join(", ")),
    }
}

fn section(out: &mut dyn Write, title: &str, lines: impl Iterator<Item = String>, look: Look) -> io::Result<()> {
    let mut lines = lines.peekable();
    if lines.peek().is_none() {
        return Ok(());
    }
    if look.narrate {
        return lines.try_for_each(|line| labeled(out, title, &line, look));
    }
    writeln!(out, "  {title}")?;
    for line in lines {
        writeln!(out, "{}", wrap(&visible(&line), "    ", look.width))?;
    }
    Ok(())
}

/// One fact as a sentence that names its kind.
fn labeled(out: &mut dyn Write, title: &str, line: &str, look: Look) -> io::Result<()> {
    let line = sentence(&format!("{}: {}", words::capital(title), visible(line)));
    writeln!(out, "{}", wrap(&line, "", look.width))
}
