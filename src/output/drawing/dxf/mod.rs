//! A detail as a DXF file: section and elevation in true size, for a drawing office to start from.
//!
//! The format is the public one of the text files of release 2000 (AC1015), which every later program reads. All that is drawn takes color
//! and weight from its layer. What something opaque covers is left out, since such a file has no paper to hide it.

mod codes;
mod entity;
mod figure;
mod file;
mod hidden;
mod layer;
mod pattern;
mod placing;
mod record;

pub use layer::{LAYERS, Names};

use crate::output::drawing::dxf::codes::Codes;
use crate::output::drawing::dxf::figure::Figures;
use crate::output::drawing::dxf::file::File;
use crate::output::drawing::elevation;
use crate::output::drawing::note;
use crate::output::drawing::page::{self, View};
use crate::output::drawing::paper::{SMALL, TITLE};
use crate::output::drawing::scene::{Area, Point, Shape};
use crate::output::drawing::section::{self, SectionLine};
use crate::output::drawing::subject::Subject;

/// mm.
const INCH: f64 = 25.4;

/// Free paper between the views, mm.
const BETWEEN: f64 = 30.0;

/// Section and elevation side by side, in inches for who draws in inches or feet, else in millimeters. Nothing is broken out.
pub fn dxf(subject: Subject, line: Option<&SectionLine>, names: &Names) -> String {
    let subject = subject.drawn_whole();
    // One size of letters for both.
    let paper = line.map_or(f64::MAX, |line| section::scale(&subject, line)).min(elevation::scale(&subject));
    let section = line.map(|line| section::view(&section::Draft::new(&subject, line, paper), false, note::WIDTH));
    let views =
        section.into_iter().chain([elevation::view(&elevation::Draft::new(&subject, paper), elevation::Noted::Words)]);
    let inches = ["in", "ft"].contains(&subject.facts.length_unit.symbol);
    let unit = if inches { 1.0 / INCH } else { 1.0 };
    let mut figures = Figures::of(subject.detail, unit);
    let scale = paper * unit;
    views.fold(0.0, |left, view| placed(&subject, view, left, scale, &mut figures));
    let mut codes = Codes::default();
    let blocks = figures.write(&mut codes, names);
    File { names, inches, scale, area: figures.area(), entities: codes, blocks }.text()
}

/// A view beside what stands on its left, with its name below it. Returns where the next one may begin.
fn placed(subject: &Subject, view: View, left: f64, factor: f64, figures: &mut Figures) -> f64 {
    let (width, height) = (view.width * factor, view.height * factor);
    let foot = view.height + 2.0 * TITLE;
    let title = format!("{}, {}", view.name, page::name(subject.detail));
    let mut shapes = view.shapes;
    shapes.push(Shape::text(Point::new(0.0, foot), TITLE, title));
    shapes.push(Shape::text(
        Point::new(0.0, foot + 2.0 * SMALL),
        SMALL,
        format!("lettered for {}; {}", subject.scales().written(view.scale), view.caption),
    ));
    figures.add(&shapes, Area::new(left, -height, left + width, 0.0), factor);
    left + width + BETWEEN * factor
}
