//! What a cure says that it does: each title in one place.

use crate::mend::extent::Bound;
use crate::quantity::Quantity;
use crate::syntax::Hold;
use crate::text::set_off;

/// The title of a cure, an instruction. Pieces, layers and materials stand here by name.
#[derive(Clone, Copy, Debug)]
pub enum Title<'a> {
    // The text as it stands.
    AddText {
        new: &'a str,
    },
    RemoveText {
        old: &'a str,
    },
    ReplaceText {
        old: &'a str,
        new: &'a str,
    },
    AddWords {
        words: &'a str,
        piece: &'a str,
    },
    RemoveWords {
        words: &'a str,
        piece: &'a str,
    },
    RemovePiece {
        piece: &'a str,
    },
    RemoveStatement {
        text: &'a str,
    },
    ChangeStatement {
        text: &'a str,
        to: &'a str,
    },
    // The installation sequence.
    Install {
        piece: &'a str,
        word: &'a str,
        other: &'a str,
    },
    InstallBonded {
        strip: &'a str,
        before: &'a str,
        backing: &'a str,
    },
    Tuck {
        piece: &'a str,
        behind: &'a str,
    },
    Fold {
        piece: &'a str,
        over: &'a str,
    },
    // How far a piece goes, and how steep it is.
    Extend {
        edge: &'a str,
        piece: &'a str,
        to: Quantity,
    },
    CutBack {
        edge: &'a str,
        piece: &'a str,
        to: Quantity,
    },
    ExtendPast {
        piece: &'a str,
        other: &'a str,
        left: Quantity,
        right: Quantity,
    },
    RaiseFoot {
        piece: &'a str,
        to: Quantity,
    },
    RunThrough {
        piece: &'a str,
    },
    Slope {
        piece: &'a str,
        slope: Quantity,
    },
    // Fasteners.
    Space {
        every: Quantity,
    },
    MoveFasteners {
        piece: &'a str,
        bound: Bound,
        at: Quantity,
    },
    // Bonds, beads and tapes.
    Bond {
        piece: &'a str,
        onto: &'a str,
        hold: Hold,
    },
    Weld {
        piece: &'a str,
    },
    Seal {
        one: &'a str,
        other: &'a str,
        sealant: &'a str,
    },
    /// Without a sealant where a bead that is drawn already moves there.
    SealAtBack {
        unit: &'a str,
        pan: &'a str,
        sealant: Option<&'a str>,
    },
    SealWholeContact,
    Tape {
        one: &'a str,
        other: &'a str,
        tape: &'a str,
        primed: bool,
    },
    BeadAgainst {
        rod: &'a str,
    },
    BeadDepth {
        depth: Quantity,
    },
    BeadDepthAgainst {
        rod: &'a str,
        depth: Quantity,
    },
    // What is added to a detail.
    AddWeeps {
        every: Quantity,
    },
    LowerWeeps {
        to: Quantity,
    },
    AddEndDams {
        pan: &'a str,
    },
    AddOtherEndDam {
        pan: &'a str,
    },
    DrawFlashing {
        role: &'a str,
        edge: &'a str,
        piece: &'a str,
        place: InstallationOrder<'a>,
    },
    DrawCounterflashing {
        wall: &'a str,
        over: &'a str,
    },
    LetIn {
        piece: &'a str,
        wall: &'a str,
    },
    // Layers and their materials.
    Substitute {
        new: &'a str,
        old: &'a str,
    },
    AddInboard {
        layer: &'a str,
        of: &'a str,
    },
    Widen {
        gap: &'a str,
        to: Quantity,
    },
    AssignControls {
        layer: &'a str,
        controls: &'a str,
    },
    RemoveControl {
        layer: &'a str,
        control: &'a str,
    },
    AssignPiece {
        piece: &'a str,
        assembly: &'a str,
    },
    DrawLayer {
        layer: &'a str,
        assembly: &'a str,
        after: &'a str,
    },
    DrawSealedLayer {
        layer: &'a str,
        assembly: &'a str,
        after: &'a str,
    },
    // Decisions, and two cures at once.
    Waive,
    Both {
        first: &'a str,
        second: &'a str,
    },
}

/// When a new flashing is installed.
#[derive(Clone, Copy, Debug)]
pub enum InstallationOrder<'a> {
    /// Right after the piece whose edge it covers.
    Next,
    After(&'a str),
    Before(&'a str),
}

impl Title<'_> {
    pub fn words(&self) -> String {
        match *self {
            Title::AddText { new } => format!("Add {new}"),
            Title::RemoveText { old } => format!("Remove {old}"),
            Title::ReplaceText { old, new } => format!("Change {old} to {new}"),
            Title::AddWords { words, piece } => format!("Add `{words}` to {}", set_off(piece)),
            Title::RemoveWords { words, piece } => format!("Remove `{words}` from {}", set_off(piece)),
            Title::RemovePiece { piece } => format!("Remove {}", set_off(piece)),
            Title::RemoveStatement { text } => format!("Remove `{text}`"),
            Title::ChangeStatement { text, to } => format!("Change `{text}` to {to}"),

            Title::Install { piece, word, other } => format!("Install {} {word} {}", set_off(piece), set_off(other)),
            Title::InstallBonded { strip, before, backing } => {
                format!("Install {} before {}, bonded to {}", set_off(strip), set_off(before), set_off(backing))
            }
            Title::Tuck { piece, behind } => format!("Tuck {} behind {}", set_off(piece), set_off(behind)),
            Title::Fold { piece, over } => format!("Fold {} down over {}", set_off(piece), set_off(over)),

            Title::Extend { edge, piece, to } => format!("Extend the {edge} of {} to {to}", set_off(piece)),
            Title::CutBack { edge, piece, to } => format!("Cut back the {edge} of {} to {to}", set_off(piece)),
            Title::ExtendPast { piece, other, left, right } => {
                format!("Extend {} past {}, to {left} and {right}", set_off(piece), set_off(other))
            }
            Title::RaiseFoot { piece, to } => format!("Raise the foot of {} to {to}", set_off(piece)),
            Title::RunThrough { piece } => format!("Run {} through", set_off(piece)),
            Title::Slope { piece, slope } => format!("Slope {} at {slope}", set_off(piece)),

            Title::Space { every } => format!("Space them {every} apart"),
            Title::MoveFasteners { piece, bound, at } => {
                let verb = if bound == Bound::Low { "Start" } else { "End" };
                format!("{verb} the fasteners of {} at {at}", set_off(piece))
            }

            Title::Bond { piece, onto, hold } => {
                let verb = match hold {
                    Hold::Adhesive => "Adhere",
                    Hold::Weld => "Weld",
                    Hold::Clamp => "Clamp",
                };
                format!("{verb} {} to {}", set_off(piece), set_off(onto))
            }
            Title::Weld { piece } => format!("Weld {}", set_off(piece)),
            Title::Seal { one, other, sealant } => {
                format!("Seal {} to {} with {sealant}", set_off(one), set_off(other))
            }
            Title::SealAtBack { unit, pan, sealant } => {
                let with = sealant.map_or(String::new(), |sealant| format!(" with {sealant}"));
                format!("Seal {} to the back of {}{with}", set_off(unit), set_off(pan))
            }
            Title::SealWholeContact => "Run the bead along the whole contact".to_owned(),
            Title::Tape { one, other, tape, primed } => {
                let primed = if primed { ", primed" } else { "" };
                format!("Tape {} to {} with {tape}{primed}", set_off(one), set_off(other))
            }
            Title::BeadAgainst { rod } => format!("Tool the bead against {rod}"),
            Title::BeadDepth { depth } => format!("Make the bead {depth} deep"),
            Title::BeadDepthAgainst { rod, depth } => format!("Make the bead {depth} deep, against {rod}"),

            Title::AddWeeps { every } => format!("Add weeps every {every}"),
            Title::LowerWeeps { to } => format!("Lower the weeps to {to}"),
            Title::AddEndDams { pan } => format!("Turn up end dams at {}", set_off(pan)),
            Title::AddOtherEndDam { pan } => format!("Turn up the other end dam at {}", set_off(pan)),
            Title::DrawFlashing { role, edge, piece, place } => {
                let kind = role.rsplit_once('-').map_or(role.to_owned(), |(first, last)| format!("{first} {last}"));
                let article = if kind.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
                let place = match place {
                    InstallationOrder::Next => String::new(),
                    InstallationOrder::After(other) => format!(", after {}", set_off(other)),
                    InstallationOrder::Before(other) => format!(", before {}", set_off(other)),
                };
                format!("Draw {article} {kind} at the {edge} of {}{place}", set_off(piece))
            }
            Title::DrawCounterflashing { wall, over } => {
                format!("Let a counterflashing into {} and bring it down over {}", set_off(wall), set_off(over))
            }
            Title::LetIn { piece, wall } => format!("Let {} into {} and seal it there", set_off(piece), set_off(wall)),

            Title::Substitute { new, old } => format!("Use {} in place of {}", set_off(new), set_off(old)),
            Title::AddInboard { layer, of } => format!("Add {} inboard of {}", set_off(layer), set_off(of)),
            Title::Widen { gap, to } => format!("Make {} {to} wide", set_off(gap)),
            Title::AssignControls { layer, controls } => {
                format!("Assign {} control to {}", controls.replace(", ", " and "), set_off(layer))
            }
            Title::RemoveControl { layer, control } => format!("Remove {control} control from {}", set_off(layer)),
            Title::AssignPiece { piece, assembly } => format!("Assign {} to {assembly}", set_off(piece)),
            Title::DrawLayer { layer, assembly, after } => {
                format!("Draw {} of {assembly} after {}", set_off(layer), set_off(after))
            }
            Title::DrawSealedLayer { layer, assembly, after } => {
                format!(
                    "Draw {} of {assembly} after {after}, and seal it to {after}",
                    set_off(layer),
                    after = set_off(after)
                )
            }

            Title::Waive => "Waive it, and state the reason".to_owned(),
            Title::Both { first, second } => format!("{first}, and {}", lower(second)),
        }
    }
}

fn lower(title: &str) -> String {
    let mut letters = title.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}
