//! What can be wrong with an installation sequence, each problem with what to do about it.

/// Why a detail cannot be installed as drawn, or what water does to it then. Pieces stand here as the steps call them.
#[derive(Clone, Copy, Debug)]
pub enum Problem<'a> {
    Impossible {
        piece: &'a str,
        other: &'a str,
    },
    /// One of the two is a unit, which nobody cuts.
    ImpossibleUnit {
        piece: &'a str,
        other: &'a str,
    },
    BehindFixed {
        piece: &'a str,
        behind: &'a str,
    },
    ReverseLap {
        over: &'a str,
        under: &'a str,
        cure: Option<SequenceChange<'a>>,
    },
}

/// A change of the sequence that cures a reverse lap.
#[derive(Clone, Copy, Debug)]
pub enum SequenceChange<'a> {
    Install { piece: &'a str, before: &'a str },
    Lay { piece: &'a str, over: &'a str },
}

impl Problem<'_> {
    pub fn words(&self) -> String {
        match *self {
            Problem::Impossible { piece, other } => {
                format!("{} Cut one of the two and draw the flap as a separate piece.", both_sides(piece, other))
            }
            Problem::ImpossibleUnit { piece, other } => both_sides(piece, other),
            Problem::BehindFixed { piece, behind } => format!(
                "Cannot be built as drawn: {piece} goes behind {behind}, which is already bonded or fastened there. Fix \
                 {behind} only after {piece} is in place."
            ),
            Problem::ReverseLap { over, under, cure } => {
                let cure = match cure {
                    Some(SequenceChange::Install { piece, before }) => {
                        format!("Installing {piece} before {before} cures it.")
                    }
                    Some(SequenceChange::Lay { piece, over }) => format!("Laying {piece} over {over} cures it."),
                    None => {
                        "No other sequence of these two pieces cures it; the detail needs another piece.".to_owned()
                    }
                };
                format!("Water that runs off {under} gets behind the top edge of {over}. {cure}")
            }
        }
    }
}

fn both_sides(piece: &str, other: &str) -> String {
    format!("Cannot be built as drawn: {other} would have to be both outboard of {piece} and behind it.")
}
