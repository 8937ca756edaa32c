//! What facts take for granted: the values of `[assumed]`, each in its place.

use crate::facts::Assumed;
use crate::finding::Finding;
use crate::model::{Name, Words};
use crate::quantity::{Dimension, Quantity};
use crate::rules::constant::Constant;
use crate::rules::expression::Ty;
use crate::rules::written::{Literal, RawAssumed, problem, suggest};
use crate::text::Span;

/// The values as written, and a project's reasons for those that it has changed.
#[derive(Clone, Debug, Default)]
pub struct AssumedTable {
    pub constants: Vec<Constant>,
    /// What a project has changed, with its reasons.
    pub adjusted: Vec<String>,
    pub span: Span,
}

/// Puts a value in its place.
enum Set {
    Length(fn(&mut Assumed, Quantity)),
    Number(Dimension, fn(&mut Assumed, f64)),
    Count(fn(&mut Assumed, usize)),
    Roles(fn(&mut Assumed, Vec<Name>)),
}

const VALUES: [(&str, Set); 12] = [
    ("bead-reach", Set::Length(|assumed, reach| assumed.limits.bead_reach = crate::facts::nanometres(reach))),
    ("fillet", Set::Length(|assumed, fillet| assumed.limits.fillet = crate::facts::nanometres(fillet))),
    ("shedding", Set::Number(Dimension::Slope, |assumed, rise| assumed.limits.shedding = rise)),
    ("airtight", Set::Number(Dimension::AirFlow, |assumed, air| assumed.airtight = air)),
    ("insulating-conductivity", Set::Number(Dimension::Conductivity, |assumed, c| assumed.insulating_conductivity = c)),
    ("insulating-resistance", Set::Number(Dimension::Resistance, |assumed, r| assumed.insulating_resistance = r)),
    ("metal-conductivity", Set::Number(Dimension::Conductivity, |assumed, c| assumed.metal_conductivity = c)),
    ("room", Set::Number(Dimension::Temperature, |assumed, room| assumed.room = room)),
    ("wet-before-coldest", Set::Count(|assumed, months| assumed.wet_before_coldest = months)),
    ("flashing-roles", Set::Roles(|assumed, roles| assumed.flashing_roles = roles)),
    ("catching-roles", Set::Roles(|assumed, roles| assumed.catching_roles = roles)),
    ("filling-roles", Set::Roles(|assumed, roles| assumed.filling_roles = roles)),
];

impl From<RawAssumed> for AssumedTable {
    fn from(raw: RawAssumed) -> AssumedTable {
        let used = |constant| Constant { used: true, ..Constant::from(constant) };
        AssumedTable { constants: raw.constants.into_iter().map(used).collect(), adjusted: Vec::new(), span: raw.span }
    }
}

impl AssumedTable {
    /// The values in their places, or all of their problems.
    pub fn settle(&self, words: &Words) -> Result<Assumed, Vec<Finding>> {
        let (mut assumed, mut problems) = (Assumed::default(), Vec::new());
        for constant in &self.constants {
            let Some((_, set)) = VALUES.iter().find(|(name, _)| *name == &*constant.name) else {
                let message = format!("there is no assumed value `{}`", constant.name);
                let finding = problem("rule-key", constant.name_span, message);
                problems.push(suggest(finding, &constant.name, VALUES.iter().map(|(name, _)| *name)));
                continue;
            };
            if let Err(message) = set.put(&mut assumed, constant, words) {
                problems.push(problem("rule-value", constant.span, message));
            }
        }
        for (name, _) in VALUES.iter().filter(|(name, _)| self.constants.iter().all(|c| *c.name != **name)) {
            problems.push(problem("rule-key", self.span, format!("`[assumed]` needs a value for `{name}`")));
        }
        if problems.is_empty() { Ok(assumed) } else { Err(problems) }
    }
}

impl Set {
    fn put(&self, assumed: &mut Assumed, constant: &Constant, words: &Words) -> Result<(), String> {
        let wants = |what: &str| {
            Err(format!("this value for `{}` is {}; expected {what}", constant.name, constant.of().phrase()))
        };
        match (self, &constant.value) {
            (Set::Length(put), Literal::Quantity(q)) if q.dimension() == Dimension::Length => {
                not_negative(constant, *q)?;
                put(assumed, *q);
            }
            (Set::Length(_), _) => return wants(&Ty::Quantity(Dimension::Length).phrase()),
            (Set::Number(dimension, put), Literal::Quantity(q)) if q.dimension() == *dimension => {
                not_negative(constant, *q)?;
                put(assumed, q.si);
            }
            (Set::Number(dimension, _), _) => return wants(&Ty::Quantity(*dimension).phrase()),
            (Set::Count(put), Literal::Quantity(q)) if (0..=11).any(|months| f64::from(months) == q.si) => {
                put(assumed, q.si as usize);
            }
            (Set::Count(_), _) => {
                return Err(format!("`{}` has to be a whole number of months, 0 to 11", constant.name));
            }
            (Set::Roles(put), Literal::Words(roles)) => {
                if let Some(stranger) = roles.iter().find(|role| !words.roles.contains(role)) {
                    return Err(format!(
                        "`{stranger}` is not a role of a piece; expected one of: {}",
                        words.roles.join(", ")
                    ));
                }
                put(assumed, roles.to_vec());
            }
            (Set::Roles(_), _) => return wants("a list of roles"),
        }
        Ok(())
    }
}

fn not_negative(constant: &Constant, value: Quantity) -> Result<(), String> {
    let negative = value.si < 0.0 || value.si.is_nan();
    if negative { Err(format!("`{}` cannot be negative", constant.name)) } else { Ok(()) }
}
