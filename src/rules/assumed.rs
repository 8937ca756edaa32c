//! The assumptions of the facts: the values of `[assumed]`, each put in its field of `Assumed`.

use crate::facts::Assumed;
use crate::finding::Finding;
use crate::model::{Name, Words};
use crate::quantity::{Dimension, Quantity};
use crate::rules::constant::Constant;
use crate::rules::written::{Literal, RawAssumed};
use crate::rules::{Expected, Message};
use crate::text::Span;

/// The values as written, and a project's reasons for those that it has changed.
#[derive(Clone, Debug, Default)]
pub struct AssumedTable {
    pub constants: Vec<Constant>,
    /// What a project has changed, with its reasons.
    pub adjusted: Vec<String>,
    pub span: Span,
}

/// Sets the field that a value is for.
enum Setter {
    Length(fn(&mut Assumed, Quantity)),
    Number(Dimension, fn(&mut Assumed, f64)),
    Count(fn(&mut Assumed, usize)),
    Roles(fn(&mut Assumed, Vec<Name>)),
}

const VALUES: [(&str, Setter); 13] = [
    ("bead-reach", Setter::Length(|assumed, reach| assumed.limits.bead_reach = crate::facts::nanometres(reach))),
    ("fillet", Setter::Length(|assumed, fillet| assumed.limits.fillet = crate::facts::nanometres(fillet))),
    ("shedding", Setter::Number(Dimension::Slope, |assumed, rise| assumed.limits.shedding = rise)),
    ("airtight", Setter::Number(Dimension::AirFlow, |assumed, air| assumed.airtight = air)),
    (
        "insulating-conductivity",
        Setter::Number(Dimension::Conductivity, |assumed, c| assumed.insulating_conductivity = c),
    ),
    ("insulating-resistance", Setter::Number(Dimension::Resistance, |assumed, r| assumed.insulating_resistance = r)),
    ("metal-conductivity", Setter::Number(Dimension::Conductivity, |assumed, c| assumed.metal_conductivity = c)),
    ("room", Setter::Number(Dimension::Temperature, |assumed, room| assumed.room = room)),
    ("wet-before-coldest", Setter::Count(|assumed, months| assumed.wet_before_coldest = months)),
    ("flashing-roles", Setter::Roles(|assumed, roles| assumed.flashing_roles = roles)),
    ("catching-roles", Setter::Roles(|assumed, roles| assumed.catching_roles = roles)),
    ("filling-roles", Setter::Roles(|assumed, roles| assumed.filling_roles = roles)),
    ("upturn-roles", Setter::Roles(|assumed, roles| assumed.upturn_roles = roles)),
];

impl From<RawAssumed> for AssumedTable {
    fn from(raw: RawAssumed) -> AssumedTable {
        let used = |constant| Constant { used: true, ..Constant::from(constant) };
        AssumedTable { constants: raw.constants.into_iter().map(used).collect(), adjusted: Vec::new(), span: raw.span }
    }
}

impl AssumedTable {
    /// The `Assumed` that the values make, or all of their problems.
    pub fn settle(&self, words: &Words) -> Result<Assumed, Vec<Finding>> {
        let (mut assumed, mut problems) = (Assumed::default(), Vec::new());
        for constant in &self.constants {
            let Some((_, set)) = VALUES.iter().find(|(name, _)| *name == &*constant.name) else {
                let known = VALUES.each_ref().map(|(name, _)| *name);
                let message = Message::UnknownAssumed { name: &constant.name, known: &known };
                problems.push(message.at(constant.name_span));
                continue;
            };
            if let Err(message) = set.put(&mut assumed, constant, words) {
                problems.push(message.at(constant.span));
            }
        }
        for (name, _) in VALUES.iter().filter(|(name, _)| self.constants.iter().all(|c| *c.name != **name)) {
            problems.push(Message::MissingAssumed { name }.at(self.span));
        }
        if problems.is_empty() { Ok(assumed) } else { Err(problems) }
    }
}

impl Setter {
    fn put<'a>(&self, assumed: &mut Assumed, constant: &'a Constant, words: &'a Words) -> Result<(), Message<'a>> {
        let name = &constant.name;
        let wrong = |expected: Expected| Err(Message::WrongAssumed { name, found: constant.of(), expected });
        match (self, &constant.value) {
            (Setter::Length(put), Literal::Quantity(q)) if q.dimension() == Dimension::Length => {
                not_negative(constant, *q)?;
                put(assumed, *q);
            }
            (Setter::Length(_), _) => return wrong(Expected::Quantity(Dimension::Length)),
            (Setter::Number(dimension, put), Literal::Quantity(q)) if q.dimension() == *dimension => {
                not_negative(constant, *q)?;
                put(assumed, q.si);
            }
            (Setter::Number(dimension, _), _) => return wrong(Expected::Quantity(*dimension)),
            (Setter::Count(put), Literal::Quantity(q)) if (0..=11).any(|months| f64::from(months) == q.si) => {
                put(assumed, q.si as usize);
            }
            (Setter::Count(_), _) => return Err(Message::NotMonths { name }),
            (Setter::Roles(put), Literal::Words(roles)) => {
                if let Some(stranger) = roles.iter().find(|role| !words.roles.contains(role)) {
                    return Err(Message::NotARole { word: stranger, known: &words.roles });
                }
                put(assumed, roles.to_vec());
            }
            (Setter::Roles(_), _) => return wrong(Expected::Roles),
        }
        Ok(())
    }
}

fn not_negative(constant: &Constant, value: Quantity) -> Result<(), Message<'_>> {
    let negative = value.si < 0.0 || value.si.is_nan();
    if negative { Err(Message::Negative { name: &constant.name }) } else { Ok(()) }
}
