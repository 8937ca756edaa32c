//! What the words of a detail mean, in a sentence each.

/// Statements first, then clauses.
const MEANINGS: [(&str, &str); 43] = [
    ("sheet", "The number of the sheet that the detail is drawn on."),
    ("note", "Words for the drawing. They are not judged."),
    ("grade", "The height of the finished ground."),
    ("sheltered", "The heights that no rain reaches."),
    ("wall-line", "Where the warm side of the wall is; the reach of an ice barrier is measured from it."),
    ("exposed", "How long the pieces stay uncovered before the cladding."),
    ("installed-at", "How cold the air is on the day of work."),
    ("fold", "The line at which the face turns: at a sill, a head, a corner, the foot of a wall."),
    ("valley", "The line to which two slopes fall."),
    ("slope", "How steep it is. A run to one side is written 1:12, or in degrees, or in percent."),
    ("piece", "Something that is installed. The order of the pieces is the installation sequence."),
    ("cut", "An opening cut into a piece."),
    ("seal", "A bead between two pieces, along their whole contact or where `up` or `along` says."),
    ("fasten", "Fasteners through a piece."),
    ("weeps", "Openings that let out the water that a flashing collects."),
    ("waive", "A finding that somebody accepts, with the reason."),
    ("layer", "A layer of the assembly, the outermost first."),
    ("outside", "The layers begin here, outdoors."),
    ("inside", "On a piece: it lies on the room side. In an assembly: the layers end here, at the room."),
    ("climate", "The outdoor and indoor climate that the assembly is judged in."),
    ("joins", "The assemblies that meet in this detail."),
    ("of", "The piece is the layer of that material in this assembly. Without it, it is an accessory."),
    ("as", "What the piece is for."),
    ("up", "Where it lies, in height along the face. An end that is not written runs off the drawing."),
    ("along", "Where it lies from left to right, seen from outside. An end that is not written runs off the drawing."),
    ("bonds", "What it sticks to."),
    ("welded", "It is welded to what it bonds."),
    ("clamped", "It is pressed to what it bonds."),
    ("over", "The other piece comes later, and this one is then folded down over it."),
    ("behind", "It slips in directly inboard of a piece that is already there."),
    ("with", "What it is made of or done with; `with drip`: its lower edge throws water clear."),
    ("rolled", "It is pressed on with a roller."),
    ("primed", "The surface under it has been primed."),
    ("every", "How far apart they are."),
    ("width", "How wide the joint is that the bead fills."),
    ("depth", "How deep the bead is."),
    ("on", "The piece that the waiver is about."),
    ("because", "The reason, for those who read the waiver later."),
    ("by", "Who accepts it."),
    ("until", "The last day that the waiver holds."),
    ("controls", "What the layer is meant to hold back: water, air, vapor, or heat."),
    ("between", "The frame that the layer fills, and how far apart its members are."),
    ("paved", "Paving lies on the ground."),
];

pub fn of(word: &str) -> Option<&'static str> {
    MEANINGS.iter().find(|(known, _)| *known == word).map(|(_, meaning)| *meaning)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::syntax::{Keyword, statements_of};

    #[test]
    fn each_word_of_a_detail_has_a_meaning() {
        for form in statements_of(Keyword::Detail) {
            assert!(of(form.word).is_some(), "{} has no meaning", form.word);
            for word in form.clauses.iter().filter_map(|kind| kind.word()) {
                assert!(of(word).is_some(), "{word} of {} has no meaning", form.word);
            }
        }
    }
}
