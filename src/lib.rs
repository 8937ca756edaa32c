//! A rule-based checker of wall and interface details written as plain text.
//!
//! Text goes in at the top of this list and findings come out at the bottom; nothing flows back.

pub mod text;

pub mod quantity;

pub mod finding;

pub mod syntax;

pub mod tidy;

pub mod physics;

pub mod model;

pub mod facts;

pub mod rules;

pub mod report;

pub mod compare;

pub mod review;

pub mod mend;

pub mod project;

pub mod output;

pub mod server;

pub mod cli;
