//! The numbers of one layer: what its author gave, converted to thermal resistance and equivalent air layer.

use std::sync::Arc;

use crate::facts::Assumed;
use crate::facts::vapor::{self, AirLayer};
use crate::model::{Control, Layer, Material, MaterialKind};
use crate::physics::{self, HeatFlow, Ventilation};

/// A property that a number needs and that is not stated.
#[derive(Clone, Debug)]
pub struct Lack {
    pub material: Arc<Material>,
    pub property: &'static str,
    /// Its layer has a clause that was reported as unreadable and that may state this property.
    pub reported: bool,
}

/// A number, or what it would need.
pub type Known<T> = Result<T, Lack>;

/// The numbers of a layer at its own thickness.
#[derive(Clone, Debug)]
pub struct LayerFacts {
    /// m
    pub thickness: Option<f64>,
    /// m2 K/W, between the frames if there are any.
    pub resistance: Known<f64>,
    /// The resistance that the label states, which code tables use; the design value where there is no label.
    pub labeled: Known<f64>,
    pub sd: Known<AirLayer>,
    pub frame: Option<FrameFacts>,
    pub insulating: bool,
    /// Lets no air through, as a sheet of foam or sprayed foam does.
    pub airtight: bool,
    pub ventilation: Ventilation,
}

/// The frames within a layer.
#[derive(Clone, Debug)]
pub struct FrameFacts {
    /// m2 K/W through the depth of the layer.
    pub resistance: Known<f64>,
    pub sd: Known<AirLayer>,
    /// Width over spacing.
    pub share: f64,
    /// Metal, for which averaging parallel paths does not hold (ISO 6946, scope).
    pub metal: bool,
    /// m2 K/W of the whole layer, metal frames included, where a published table gives it.
    pub effective: Option<f64>,
}

impl LayerFacts {
    pub fn derive(layer: &Layer, flow: HeatFlow, assumed: &Assumed) -> LayerFacts {
        let thickness = layer.thickness.map(|t| t.si);
        let resistance = |material| resistance(material, thickness, flow).map_err(|lack| lack.of(layer));
        let sd = |material| sd(material, thickness).map_err(|lack| lack.of(layer));
        let labeled = layer.material.labeled(thickness).map_or_else(|| resistance(&layer.material), |r| Ok(r.si));
        let frame = layer.between.as_ref().map(|frame| {
            let metal = is_metal(&frame.material, assumed);
            let stated = labeled.as_ref().ok().filter(|_| metal).copied();
            FrameFacts {
                resistance: resistance(&frame.material),
                sd: sd(&frame.material),
                share: frame.width.si / frame.spacing.si,
                metal,
                effective: stated.zip(thickness).and_then(|(r, depth)| {
                    let empty = layer.material.kind == Some(MaterialKind::Gap);
                    physics::steel_studs(if empty { 0.0 } else { r }, depth, frame.spacing.si)
                }),
            }
        });
        let (resistance, sd) = (resistance(&layer.material), sd(&layer.material));
        let insulating = is_insulating(&layer.material, resistance.as_ref().ok().copied(), assumed);
        let ventilation = if layer.material.vented { Ventilation::Well } else { Ventilation::None };
        let airtight = is_airtight(&layer.material, assumed);
        LayerFacts { thickness, resistance, labeled, sd, frame, insulating, airtight, ventilation }
    }
}

impl Lack {
    fn new(material: &Arc<Material>, property: &'static str) -> Lack {
        Lack { material: material.clone(), property, reported: false }
    }

    fn of(self, layer: &Layer) -> Lack {
        Lack { reported: layer.doubtful, ..self }
    }
}

/// R of a thickness of a material. The resistance that a product states holds at the thickness it is sold in. Membranes and
/// paints without a stated conductivity are too thin to matter.
fn resistance(material: &Arc<Material>, thickness: Option<f64>, flow: HeatFlow) -> Known<f64> {
    let lack = |property| Err(Lack::new(material, property));
    if material.vented {
        return Ok(0.0);
    }
    if material.kind == Some(MaterialKind::Gap) {
        let Some(thickness) = thickness else { return lack("thickness") };
        return physics::air_layer(thickness, flow).or_else(|_| lack("thickness"));
    }
    let as_sold = thickness.is_none() || material.thickness.map(|t| t.si) == thickness;
    match (material.resistance, material.conductivity, thickness) {
        (Some(given), _, _) if as_sold => Ok(given.si),
        (_, Some(conductivity), Some(thickness)) => Ok(thickness / conductivity.si),
        // A resistance given for another thickness scales with it.
        (Some(given), None, Some(thickness)) => match material.thickness {
            Some(sold) => Ok(given.si * thickness / sold.si),
            None => Ok(given.si),
        },
        (_, Some(_), None) => lack("thickness"),
        (_, None, _) if is_thin(material) => Ok(0.0),
        _ => lack("conductivity"),
    }
}

/// Foam without a stated air permeance is airtight if it says `holds air`.
fn is_airtight(material: &Material, assumed: &Assumed) -> bool {
    let stated = material.air_permeance.map(|air| air.si <= assumed.airtight * (1.0 + 1e-9));
    stated.unwrap_or_else(|| material.holds.has(Control::Air))
}

fn is_metal(material: &Material, assumed: &Assumed) -> bool {
    material.conductivity.is_some_and(|c| c.si >= assumed.metal_conductivity)
        || material.conductivity.is_none() && material.surface.as_deref() == Some("metal")
}

fn sd(material: &Arc<Material>, thickness: Option<f64>) -> Known<AirLayer> {
    if material.kind == Some(MaterialKind::Gap) && material.vapor.is_none() {
        return Ok(AirLayer { dry: physics::AIR_LAYER_SD, wet: physics::AIR_LAYER_SD });
    }
    vapor::air_layer(material, thickness).map_err(|property| Lack::new(material, property))
}

fn is_thin(material: &Material) -> bool {
    use MaterialKind::{Coat, Flashing, Sheet, Tape};
    matches!(material.kind, Some(Sheet | Tape | Coat | Flashing))
}

/// A fill, or a material that insulates as well as products sold as insulation.
fn is_insulating(material: &Material, resistance: Option<f64>, assumed: &Assumed) -> bool {
    if material.kind == Some(MaterialKind::Gap) {
        return false;
    }
    let poor_conductor = material.conductivity.is_none_or(|c| c.si <= assumed.insulating_conductivity);
    let resists = resistance.is_some_and(|r| r >= assumed.insulating_resistance);
    material.kind == Some(MaterialKind::Fill) || (poor_conductor && resists)
}
