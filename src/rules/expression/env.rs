//! Where an expression is evaluated.

use std::cell::Cell;

use crate::facts::vocabulary::{Fact, FactList};
use crate::quantity::System;
use crate::rules::constant::Constant;
use crate::rules::expression::eval::truth;
use crate::rules::expression::{CandidateCache, Code, Truth};
use crate::rules::table::Table;

/// The environment of an expression: the innermost thing, the things in the scopes around it, and what they can refer to.
#[derive(Clone, Copy)]
pub struct Env<'e, 'a> {
    pub item: Fact<'a>,
    pub outer: Option<&'e Env<'e, 'a>>,
    pub constants: &'a [Constant],
    pub tables: &'a [Table],
    /// Cached results about the items of lists.
    pub lists: &'e CandidateCache,
    /// The unit system of numbers in sentences, when a project has chosen one.
    pub units: Option<System>,
    /// How many more items of lists may be looked at. Without a limit, nested lists could take hours.
    pub steps: &'e Cell<u64>,
}

impl<'e, 'a> Env<'e, 'a> {
    #[inline]
    pub fn out(&self, depth: usize) -> Fact<'a> {
        let mut env = self;
        for _ in 0..depth {
            env = env.outer.unwrap_or(env);
        }
        env.item
    }

    /// The items of a list, as long as there are steps left.
    #[inline]
    pub fn each(&self, items: FactList<'a>) -> impl Iterator<Item = Fact<'a>> + use<'a, 'e> {
        let steps = self.steps;
        items.iter().take_while(move |_| step(steps))
    }

    /// The items of a list that may satisfy a condition, for places where a missing property makes no difference.
    pub fn all_that_may(
        &self,
        condition: &'a Code,
        items: FactList<'a>,
    ) -> impl Iterator<Item = Fact<'a>> + use<'a, 'e> {
        let may_be = |parts: &[&'a Code], number: usize| {
            step(self.steps);
            items.get(number).is_some_and(|item| {
                let inside = self.inside(item);
                parts.iter().all(|part| truth(part, &inside) != Truth::No)
            })
        };
        let found = self.lists.candidates(condition, items, may_be);
        let steps = self.steps;
        let number = move |at: usize| match &found {
            Some(found) => found.get(at).map(|number| *number as usize),
            None => Some(at),
        };
        (0..).map_while(move |at| items.get(number(at)?)).take_while(move |_| step(steps))
    }

    #[inline]
    pub fn inside(&'e self, item: Fact<'a>) -> Env<'e, 'a> {
        Env { item, outer: Some(self), ..*self }
    }
}

/// Takes one step, unless none are left.
fn step(steps: &Cell<u64>) -> bool {
    steps.set(steps.get().saturating_sub(1));
    steps.get() > 0
}
