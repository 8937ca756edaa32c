//! A material and what is known of it. A value that no file gives stays `None`: nothing is made up.

use crate::model::{Controls, MaterialKind, Name};
use crate::quantity::Quantity;
use crate::text::Span;

#[derive(Clone, Debug)]
pub struct Material {
    pub name: Name,
    /// `None` for a name that no file defines: that was said once, and what depends on it is silent.
    pub kind: Option<MaterialKind>,
    pub title: Option<String>,
    pub holds: Controls,
    pub holds_span: Option<Span>,
    pub thickness: Option<Quantity>,
    pub vapor: Option<VaporValue>,
    pub conductivity: Option<Quantity>,
    /// Of the thickness in which it is sold.
    pub resistance: Option<Quantity>,
    /// A resistance and the thickness that has it, as in R 5 per inch.
    pub resistance_per: Option<(Quantity, Quantity)>,
    pub density: Option<Quantity>,
    /// At 75 Pa.
    pub air_permeance: Option<Quantity>,
    pub sensitive: bool,
    /// What a bond meets: a word of the surface family list.
    pub surface: Option<Name>,
    /// What it is made of, where contact with other substances matters: a word of the substance list.
    pub made_of: Option<Name>,
    /// What it sticks with: a word of the adhesive family list.
    pub adhesive: Option<Name>,
    pub applies_above: Option<Quantity>,
    pub uv_limit: Option<Quantity>,
    /// Both faces stick.
    pub double_sided: bool,
    pub capped: bool,
    pub vented: bool,
    pub drained: bool,
    pub section: Option<String>,
    pub source: Option<String>,
    pub name_span: Span,
}

impl Material {
    /// Its title, or its name where it has none.
    pub fn called(&self) -> &str {
        self.title.as_deref().unwrap_or(&self.name)
    }

    /// The labeled resistance of a thickness of it, which the tables of codes count: a product's own value, and not what
    /// its conductivity comes to. Thicknesses in metres. None when its author states no resistance.
    pub fn labeled(&self, thickness: Option<f64>) -> Option<Quantity> {
        let sold = self.thickness.map(|sold| sold.si);
        let times = |resistance: Quantity, times: f64| Quantity::from_si(resistance.si * times, resistance.unit);
        match (self.resistance_per, self.resistance, thickness.or(sold), sold) {
            (Some((resistance, per)), _, Some(thickness), _) => Some(times(resistance, thickness / per.si)),
            (None, Some(resistance), Some(thickness), Some(sold)) => Some(times(resistance, thickness / sold)),
            (None, resistance, _, _) => resistance,
            _ => None,
        }
    }
}

/// Resistance to water vapor as its author gave it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VaporValue {
    pub unit: VaporUnit,
    /// Dry-cup value, or the only one.
    pub dry: Quantity,
    pub wet: Option<Quantity>,
}

/// Which of the four usual measures an author gave.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VaporUnit {
    /// kg/(Pa s m2)
    Permeance,
    /// Resistance factor against still air, a plain number.
    Mu,
    /// kg/(Pa s m)
    Permeability,
    /// Thickness of the equally resisting layer of still air, m.
    AirLayer,
}
