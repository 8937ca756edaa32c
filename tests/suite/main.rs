//! The one test binary: a module for each topic.
mod architecture;
mod cli;
mod compare;
mod demo;
mod drawing;
mod drawn_laps;
mod face;
mod findings;
mod formats;
mod language;
mod outputs;
mod physics;
mod project;
mod review;
mod rules;
mod schemas;
mod stock;
