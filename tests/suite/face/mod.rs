//! The geometry of the face.

mod build;
mod continuity;
mod drops;
mod examples;
mod fixings;
mod margins;
mod reference;
mod stacks;
