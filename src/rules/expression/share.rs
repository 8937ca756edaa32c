//! Conditions that several rules ask of one thing alike (`over.kind == sheet`, `shingled`), found out once for each thing.

use std::cell::Cell;

use crate::rules::expression::Code;

/// No more conditions than this are shared within a kind.
const MOST: u8 = 128;

/// What is known already of one thing: a bit for each shared condition.
#[derive(Default)]
pub struct Memo {
    known: Cell<u128>,
    yes: Cell<u128>,
}

impl Memo {
    pub fn get(&self, condition: u8) -> Option<bool> {
        let bit = 1 << condition;
        (self.known.get() & bit != 0).then(|| self.yes.get() & bit != 0)
    }

    /// Whether one of these conditions, a bit for each, is known to be false.
    pub fn denies(&self, conditions: u128) -> bool {
        self.known.get() & !self.yes.get() & conditions != 0
    }

    pub fn put(&self, condition: u8, yes: bool) {
        let bit = 1 << condition;
        self.known.set(self.known.get() | bit);
        if yes {
            self.yes.set(self.yes.get() | bit);
        }
    }
}

/// Marks the parts that several of the conditions of one kind have in common. Parts that hold a constant are left alone:
/// every rule has its own.
pub fn share(conditions: &mut [&mut Code]) {
    let alike: Vec<Vec<Option<u8>>> = {
        let parts: Vec<&[Code]> = conditions.iter().map(|code| parts(code)).collect();
        let all: Vec<&Code> = parts.iter().copied().flatten().collect();
        let mut shared: Vec<&Code> = Vec::new();
        let mut number = |part: &Code| {
            if let Some(at) = shared.iter().position(|known| *known == part) {
                return Some(at as u8);
            }
            let first = all.iter().filter(|other| **other == part).nth(1).filter(|part| !part.holds_constant())?;
            let free = shared.len() < usize::from(MOST);
            free.then(|| {
                shared.push(first);
                shared.len() as u8 - 1
            })
        };
        parts.iter().map(|parts| parts.iter().map(&mut number).collect()).collect()
    };
    for (code, numbers) in conditions.iter_mut().zip(alike) {
        for (part, number) in parts_mut(code).iter_mut().zip(numbers) {
            if let Some(number) = number {
                let inner = std::mem::replace(part, Code::Own(0));
                *part = Code::Shared(number, Box::new(inner));
            }
        }
    }
}

/// The shared conditions that all have to be true for a condition to be true, a bit for each.
pub fn shared(code: &Code) -> u128 {
    let bit = |part: &Code| if let Code::Shared(number, _) = part { 1 << number } else { 0 };
    parts(code).iter().map(bit).fold(0, |all, bit| all | bit)
}

fn parts(code: &Code) -> &[Code] {
    match code {
        Code::And(parts) => parts,
        one => std::slice::from_ref(one),
    }
}

fn parts_mut(code: &mut Code) -> &mut [Code] {
    match code {
        Code::And(parts) => parts,
        one => std::slice::from_mut(one),
    }
}
