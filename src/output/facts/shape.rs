//! What the facts for programs hold, by the names that `headlap schema facts` describes.

use serde::Serialize;

#[derive(Serialize)]
pub struct Whole<'a> {
    pub format: u32,
    pub details: Vec<Detail<'a>>,
    pub assemblies: Vec<Assembly<'a>>,
}

#[derive(Serialize)]
pub struct Detail<'a> {
    pub file: &'a str,
    pub name: &'a str,
    pub kind: &'a str,
    pub title: Option<&'a str>,
    pub sheet: Option<&'a str>,
    pub joins: Vec<&'a str>,
    /// No finding is open in it.
    pub passed: bool,
    pub laps: Vec<Lap<'a>>,
    pub folds: Vec<Fold>,
    /// The plane stretches of the face, up from below and along from the left: with them a place on the face has its place on the
    /// real section.
    pub sides: Vec<Side>,
    pub drops: Vec<Drop<'a>>,
    pub transitions: Vec<Transition<'a>>,
}

#[derive(Serialize)]
pub struct Lap<'a> {
    pub over: &'a str,
    pub under: &'a str,
    pub run: &'static str,
    pub length_mm: f64,
    pub shingled: bool,
    pub sealed: bool,
    pub seam_watertight: bool,
    /// From level, 0, to plumb, 90. Null where it is not stated, or the face turns under the lap.
    pub slope_deg: Option<f64>,
}

#[derive(Serialize)]
pub struct Fold {
    pub kind: &'static str,
    pub axis: &'static str,
    pub at_mm: f64,
    /// By how much the face turns there: toward the building less than 0.
    pub angle_deg: Option<f64>,
}

#[derive(Serialize)]
pub struct Side {
    pub axis: &'static str,
    /// Null where it runs off the detail.
    pub from_mm: Option<f64>,
    pub to_mm: Option<f64>,
    /// The direction in which it runs in the drawing, counterclockwise from the right: 90 for a wall in section.
    pub heading_deg: f64,
}

#[derive(Serialize)]
pub struct Drop<'a> {
    pub event: &'static str,
    pub pieces: Vec<&'a str>,
    pub ends: Vec<&'static str>,
    pub path: Vec<Step<'a>>,
}

#[derive(Serialize)]
pub struct Step<'a> {
    pub piece: &'a str,
    /// Null where the piece runs off the detail.
    pub height_mm: Option<f64>,
    pub event: &'static str,
}

#[derive(Serialize)]
pub struct Transition<'a> {
    pub control: &'static str,
    pub from: &'a str,
    pub to: &'a str,
    pub continuous: bool,
}

#[derive(Serialize)]
#[allow(non_snake_case)]
pub struct Assembly<'a> {
    pub file: &'a str,
    pub name: &'a str,
    pub kind: &'static str,
    pub title: Option<&'a str>,
    pub climate: Option<&'a str>,
    pub r_value_m2K_W: Option<f64>,
    pub u_value_W_m2K: Option<f64>,
    pub layers: Vec<Layer<'a>>,
    pub condensation: Option<Condensation>,
    /// Null without a design condition in the climate, or where a value that it needs is unknown.
    pub design_condition: Option<Design>,
    pub drying_months: Option<u32>,
    pub f_rsi: Option<f64>,
    /// The room that condensation and drying are computed for, and where its author has it from.
    pub indoors: Option<&'a str>,
    pub climate_source: Option<&'a str>,
}

#[derive(Serialize)]
#[allow(non_snake_case)]
pub struct Layer<'a> {
    pub name: &'a str,
    pub material: &'a str,
    pub title: Option<&'a str>,
    pub controls: Vec<&'static str>,
    pub thickness_mm: Option<f64>,
    pub r_value_m2K_W: Option<f64>,
    /// Equivalent air layer by dry-cup and wet-cup values.
    pub sd_dry_m: Option<f64>,
    pub sd_wet_m: Option<f64>,
    pub permeance_perm: Option<f64>,
    pub vapor_class: Option<&'static str>,
    /// Null for a layer that moisture does not harm, and where nothing is in the way.
    pub dries_out_perm: Option<f64>,
    pub dries_in_perm: Option<f64>,
}

#[derive(Serialize)]
pub struct Condensation {
    pub peak_g_m2: f64,
    pub residue_g_m2: f64,
    pub months: [f64; 12],
    /// The same with the names of the months.
    pub by_month: Vec<Month>,
}

#[derive(Serialize)]
pub struct Month {
    pub month: &'static str,
    pub held_g_m2: f64,
}

/// The design condition of the section that gathers the most condensate.
#[derive(Serialize)]
#[allow(non_snake_case)]
pub struct Design {
    pub condensate_kg_m2: f64,
    pub drying_kg_m2: f64,
    pub residue_kg_m2: f64,
    /// Inside first.
    pub interfaces: Vec<Interface>,
}

#[derive(Serialize)]
#[allow(non_snake_case)]
pub struct Interface {
    pub at: String,
    pub temperature_C: f64,
    pub saturation_Pa: f64,
    pub pressure_Pa: f64,
    pub condenses: bool,
}
