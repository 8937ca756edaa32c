//! The caution at the end of every report and every installation sequence.

/// Said at the end of each output that people read.
pub const CAUTION: &str = "headlap is a drafting aid: it judges what was written down, not what gets built. Local code, the \
manufacturers' instructions and a licensed professional decide. Work at height, primers with solvents, and fuel-burning \
appliances in a house made tighter carry cautions of their own; see to them before the work begins.";
