//! Values assumed where no file states them. They are opinions, and are kept in `rules/tables/assumed.toml`.

use crate::facts::face::Limits;
use crate::model::Name;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Assumed {
    pub limits: Limits,
    /// m3/(m2 s) at 75 Pa: a material that leaks less is airtight.
    pub airtight: f64,
    /// W/(m K): a material that conducts more is not insulation.
    pub insulating_conductivity: f64,
    /// m2 K/W: a layer with less resistance is not insulation.
    pub insulating_resistance: f64,
    /// W/(m K): a material that conducts this much or more is metal.
    pub metal_conductivity: f64,
    /// K, indoors where only a humidity class is given.
    pub room: f64,
    /// How many months before the coldest month a sensitive layer gets wet.
    pub wet_before_coldest: usize,
    /// Roles that mean a flashing, whatever the piece is made of.
    pub flashing_roles: Vec<Name>,
    /// Roles of pieces that catch water behind whatever stands on them and lead it out.
    pub catching_roles: Vec<Name>,
    /// Roles of pieces that fill the space under a membrane, which stays the water line outboard of them.
    pub filling_roles: Vec<Name>,
    /// Roles of membranes that turn up. Boards and insulation behind them that belong to no layer are their substrate.
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
