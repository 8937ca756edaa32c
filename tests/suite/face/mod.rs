//! The geometry of the face.

mod build;
mod examples;
