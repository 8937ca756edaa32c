//! The one test binary: a module for each topic.
mod outputs;
mod physics;
