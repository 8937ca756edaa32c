//! A substituted material beside the issued one, property by property.

use std::sync::Arc;

use crate::facts::vapor;
use crate::model::{Control, Material};
use crate::quantity::Quantity;

/// A pair of materials, the second in the place of the first.
#[derive(Clone, Debug)]
pub struct Substitution {
    pub issued: Arc<Material>,
    pub submitted: Arc<Material>,
    /// Only what differs or is missing on one side.
    pub rows: Vec<PropertyRow>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PropertyRow {
    pub property: &'static str,
    /// The control that it matters to.
    pub control: Option<Control>,
    pub issued: String,
    pub submitted: String,
    pub verdict: Verdict,
}

/// What the submitted value means for the control.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    Better,
    Worse,
    /// Other, and whether that is good depends on where it stands.
    Differs,
    /// One side does not say.
    Unknown,
}

impl Verdict {
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Better => "better",
            Verdict::Worse => "worse",
            Verdict::Differs => "differs",
            Verdict::Unknown => "not stated",
        }
    }
}

/// The pairs that were met, each once.
#[derive(Default)]
pub struct Substitutions {
    pairs: Vec<Substitution>,
}

impl Substitutions {
    pub fn add(&mut self, issued: &Arc<Material>, submitted: &Arc<Material>) {
        let known = |s: &Substitution| s.issued.name == issued.name && s.submitted.name == submitted.name;
        if self.pairs.iter().any(known) {
            return;
        }
        let rows = rows(issued, submitted);
        if issued.name != submitted.name || !rows.is_empty() {
            self.pairs.push(Substitution { issued: issued.clone(), submitted: submitted.clone(), rows });
        }
    }

    pub fn list(mut self) -> Vec<Substitution> {
        self.pairs.sort_by(|a, b| (&a.issued.name, &a.submitted.name).cmp(&(&b.issued.name, &b.submitted.name)));
        self.pairs
    }
}

fn rows(a: &Material, b: &Material) -> Vec<PropertyRow> {
    let mut rows = Vec::new();
    for control in Control::ALL {
        let (x, y) = (a.holds.has(control), b.holds.has(control));
        if x != y {
            let verdict = if y { Verdict::Better } else { Verdict::Worse };
            let word = |holds: bool| if holds { "yes" } else { "no" }.to_string();
            rows.push(PropertyRow {
                property: "claims to hold",
                control: Some(control),
                issued: word(x),
                submitted: word(y),
                verdict,
            });
        }
    }
    let sd = |m: &Material| vapor::air_layer(m, m.thickness.map(|t| t.si)).ok();
    let perm =
        |m: &Material, wet: bool| sd(m).map(|sd| vapor::shown(vapor::permeance(if wet { sd.wet } else { sd.dry }), m));
    let mut row = |property, control, x: Option<Quantity>, y: Option<Quantity>, wish: Wish| {
        rows.extend(quantity_row(property, control, x, y, wish));
    };
    row("air permeance", Some(Control::Air), a.air_permeance, b.air_permeance, Wish::Less);
    row("vapor permeance, dry", Some(Control::Vapor), perm(a, false), perm(b, false), Wish::Depends);
    row("vapor permeance, wet", Some(Control::Vapor), perm(a, true), perm(b, true), Wish::Depends);
    row("conductivity", Some(Control::Thermal), a.conductivity, b.conductivity, Wish::Less);
    row("thermal resistance", Some(Control::Thermal), a.resistance, b.resistance, Wish::More);
    row("thickness", None, a.thickness, b.thickness, Wish::Depends);
    row("days in sunlight", None, a.uv_limit, b.uv_limit, Wish::More);
    row("applies above", None, a.applies_above, b.applies_above, Wish::Less);
    row("density", None, a.density, b.density, Wish::Depends);
    let words = [
        ("kind", a.kind.map(|k| k.word().to_string()), b.kind.map(|k| k.word().to_string())),
        ("made-of", a.made_of.as_ref().map(|s| s.to_string()), b.made_of.as_ref().map(|s| s.to_string())),
        ("surface", a.surface.as_ref().map(|s| s.to_string()), b.surface.as_ref().map(|s| s.to_string())),
        ("adhesive", a.adhesive.as_ref().map(|s| s.to_string()), b.adhesive.as_ref().map(|s| s.to_string())),
    ];
    // Of a substitution these always differ, and say nothing.
    let same = a.name == b.name;
    let said = [
        ("title", a.title.clone(), b.title.clone()),
        ("section", a.section.clone(), b.section.clone()),
        ("source", a.source.clone(), b.source.clone()),
    ];
    for (property, x, y) in words.into_iter().chain(said.into_iter().filter(|_| same)) {
        if x != y {
            let verdict = if x.is_some() && y.is_some() { Verdict::Differs } else { Verdict::Unknown };
            let shown = |value: Option<String>| value.unwrap_or_else(|| "not stated".into());
            rows.push(PropertyRow { property, control: None, issued: shown(x), submitted: shown(y), verdict });
        }
    }
    for (property, x, y, good) in [
        ("suffers from moisture", a.sensitive, b.sensitive, false),
        ("capped", a.capped, b.capped, true),
        ("vented", a.vented, b.vented, true),
        ("drained", a.drained, b.drained, true),
    ] {
        if x != y {
            let verdict = if y == good { Verdict::Better } else { Verdict::Worse };
            let word = |value: bool| if value { "yes" } else { "no" }.to_string();
            rows.push(PropertyRow { property, control: None, issued: word(x), submitted: word(y), verdict });
        }
    }
    rows
}

/// Which way of a number is good.
#[derive(Clone, Copy)]
enum Wish {
    Less,
    More,
    /// On the other layers and the climate.
    Depends,
}

fn quantity_row(
    property: &'static str,
    control: Option<Control>,
    issued: Option<Quantity>,
    submitted: Option<Quantity>,
    wish: Wish,
) -> Option<PropertyRow> {
    let close = |a: f64, b: f64| (a - b).abs() <= 1e-9 * a.abs().max(b.abs());
    let verdict = match (issued, submitted) {
        (None, None) => return None,
        (Some(a), Some(b)) if close(a.si, b.si) => return None,
        (Some(a), Some(b)) => match wish {
            Wish::Depends => Verdict::Differs,
            Wish::Less if b.si < a.si => Verdict::Better,
            Wish::More if b.si > a.si => Verdict::Better,
            Wish::Less | Wish::More => Verdict::Worse,
        },
        _ => Verdict::Unknown,
    };
    let shown = |value: Option<Quantity>| value.map_or("not stated".into(), |value| value.to_string());
    Some(PropertyRow { property, control, issued: shown(issued), submitted: shown(submitted), verdict })
}
