//! The geometry of the face.

mod build;
mod cladding;
mod continuity;
mod drops;
mod examples;
mod fixings;
mod limits;
mod margins;
mod properties;
mod reference;
mod stacks;
mod valleys;
