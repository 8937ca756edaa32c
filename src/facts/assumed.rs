//! Values assumed where no file states them. They are opinions, and are kept in `rules/tables/assumed.toml`.

use crate::facts::face::Limits;
use crate::model::Name;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Assumed {
    pub limits: Limits,
    /// m3/(m2 s): what lets less air through at 75 Pa is airtight.
    pub airtight: f64,
    /// W/(m K): what conducts more does not insulate.
    pub insulating_conductivity: f64,
    /// m2 K/W: what resists less does not insulate.
    pub insulating_resistance: f64,
    /// W/(m K): what conducts as much is metal.
    pub metal_conductivity: f64,
    /// K, indoors where only a humidity class is given.
    pub room: f64,
    /// Months from when a sensitive layer gets wet to the coldest one.
    pub wet_before_coldest: usize,
    /// Roles that mean a flashing, whatever the piece is made of.
    pub flashing_roles: Vec<Name>,
    /// Roles of pieces that lead out what gets in behind what stands on them.
    pub catching_roles: Vec<Name>,
    /// Roles of pieces that fill the space under a membrane, which stays the water line outboard of them.
    pub filling_roles: Vec<Name>,
    /// Roles of membranes that turn up: boards and insulation of no layer behind them are their ground.
    pub upturn_roles: Vec<Name>,
}

impl Assumed {
    pub fn is_flashing(&self, role: &str) -> bool {
        is_among(role, &self.flashing_roles)
    }

    pub fn catches(&self, role: &str) -> bool {
        is_among(role, &self.catching_roles)
    }

    pub fn turns_up(&self, role: &str) -> bool {
        is_among(role, &self.upturn_roles)
    }

    /// A piece with this role fills the space under a membrane.
    pub fn fills(&self, role: &str) -> bool {
        is_among(role, &self.filling_roles)
    }
}

fn is_among(role: &str, roles: &[Name]) -> bool {
    roles.iter().any(|known| **known == *role)
}
