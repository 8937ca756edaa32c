//! What the role of a piece means, and which rules ask for it.

use crate::rules::{Pack, Rule};

/// The most rules that are named.
const RULES: usize = 6;

/// In the order of `rules/tables/words.toml`. A firm's own roles mean what its rules ask of them.
const MEANINGS: [(&str, &str); 34] = [
    ("pan", "lies under a unit, catches what gets past it, and leads it outside"),
    ("back-dam", "stands up at the inboard edge of a pan, so that water cannot run inside"),
    ("end-dam", "closes the end of a pan or a flashing, so that water leaves at the front"),
    ("head-flashing", "leads water from behind the cladding out over the head of an opening"),
    ("step-flashing", "laps one shingle course at a time up along a wall"),
    ("kick-out", "turns the water at the foot of step flashings away from the wall, into the gutter"),
    ("drip-edge", "lets water fall free at the edge of a roof"),
    ("weep", "lets out the water that a flashing or a pan collects"),
    ("flap", "is folded up while work goes on below it, and then laps over that work"),
    ("course", "is one course of a covering that is laid in rows"),
    ("gasket", "is squeezed between two pieces and keeps the joint tight"),
    ("through-wall-flashing", "crosses a wall, catches the water in its cavity, and leads it out"),
    ("base-flashing", "turns the roof membrane up at a wall, a curb or a parapet"),
    ("counterflashing", "laps over the top edge of a base flashing"),
    ("apron", "leads water out onto the roof below the foot of a wall or a curb"),
    ("cricket", "divides the water uphill of something that stands in the roof"),
    ("backer", "fills a joint behind the sealant, so that the bead has the right depth"),
    ("saddle", "covers the place where a level top meets an upright face"),
    ("coping", "covers the top of a wall or a parapet"),
    ("cleat", "holds the edge of a metal piece without a fastener through its face"),
    ("termination-bar", "presses the top edge of a sheet to the wall"),
    ("reglet", "is a slot in the wall that takes the top edge of a flashing"),
    ("starter", "is the strip under the first course at an edge"),
    ("closure", "shuts the space between profiled panels and what they meet"),
    ("screen", "keeps insects out of a vented gap and lets air and water through"),
    ("weep-screed", "ends plaster at its foot and lets the water behind it out"),
    ("weep-vent", "lets water out of a cavity, and air in"),
    ("flange", "is the rim of a unit or a sleeve that lies against the face"),
    ("nailer", "is the wood that edges and fasteners are driven into"),
    ("cant", "fills the corner between a roof and an upright, so that the membrane need not turn sharply"),
    ("ridge-vent", "covers the slot at a ridge and lets air out of the roof"),
    ("ridge-cap", "covers the ridge and laps the roofing on both sides"),
    ("gutter", "takes the water of a roof at its edge"),
    ("scupper", "leads water from a roof out through a parapet"),
];

/// What a piece of this role does.
pub fn meaning(role: &str) -> Option<&'static str> {
    MEANINGS.iter().find(|(word, _)| *word == role).map(|(_, meaning)| *meaning)
}

pub fn describe(pack: &Pack, role: &str) -> String {
    let said = meaning(role).map_or(String::new(), |meaning| format!(": this piece {meaning}"));
    let mut lines = vec![format!("**role** `{role}`{said}")];
    let assumed = &pack.assumed;
    let taken = [
        (assumed.is_flashing(role), "Counts as a flashing, whatever it is made of"),
        (assumed.catches(role), "Catches the water behind the piece that stands on it, and brings it out"),
        (assumed.turns_up(role), "What stands behind it and belongs to no layer is its substrate"),
        (assumed.fills(role), "Fills the space under a membrane: rain stays on the membrane"),
    ];
    lines.extend(taken.iter().filter(|(is, _)| *is).map(|(_, words)| (*words).to_owned()));
    let rules: Vec<&Rule> = pack.rules.iter().filter(|rule| !rule.off && rule.compares("role", role)).collect();
    if !rules.is_empty() {
        lines.push("Rules that ask for it:".to_owned());
    }
    lines.extend(rules.iter().take(RULES).map(|rule| format!("- `{}`: {}", rule.id, rule.title)));
    if rules.len() > RULES {
        lines.push(format!("- and {} more", rules.len() - RULES));
    }
    lines.join("  \n")
}
