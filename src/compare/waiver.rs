//! Waivers that the submittal brings. The one who submits does not accept the deviations.

use crate::compare::Renames;
use crate::finding::Finding;
use crate::model::{Name, Waiver};
use crate::report::Checked;

/// A waiver of the submittal that the issued details do not have, with the detail or assembly that it stands in.
pub struct Brought {
    pub home: Name,
    pub waiver: Waiver,
}

/// Each waiver of the submittal without an issued one of the same rule, name, reason and term.
pub fn brought(issued: &[Checked], submitted: &[Checked], renames: &Renames) -> Vec<Brought> {
    let now = |home: &Name| renames.items.get(home).unwrap_or(home).clone();
    let on = |home: &Name, waiver: &Waiver| {
        let name = waiver.on.as_ref().map(|(name, _)| name.clone())?;
        Some(renames.pieces.get(&(home.clone(), name.clone())).cloned().unwrap_or(name))
    };
    let known: Vec<(Name, Option<Name>, &Waiver)> =
        waivers(issued).map(|(home, waiver)| (now(home), on(home, waiver), waiver)).collect();
    let is_known = |home: &Name, new: &Waiver| {
        known.iter().any(|(item, on, old)| {
            item == home
                && old.rule == new.rule
                && *on == new.on.as_ref().map(|(name, _)| name.clone())
                && (&old.because, &old.by, old.until) == (&new.because, &new.by, new.until)
        })
    };
    let new = waivers(submitted).filter(|(home, waiver)| !is_known(home, waiver));
    new.map(|(home, waiver)| Brought { home: home.clone(), waiver: waiver.clone() }).collect()
}

/// The finding is waived, but by a waiver that the submittal brings.
pub fn acquits_in_vain(finding: &Finding, brought: &[Brought]) -> bool {
    let Some(waived) = &finding.waived else { return false };
    brought.iter().any(|Brought { home, waiver }| {
        waiver.rule == finding.rule
            && finding.item.as_ref() == Some(home)
            && waiver.on.as_ref().is_none_or(|(name, _)| finding.subject.contains(name))
            && (&waiver.because, &waiver.by, waiver.until) == (&waived.because, &waived.by, waived.until)
    })
}

fn waivers(checked: &[Checked]) -> impl Iterator<Item = (&Name, &Waiver)> {
    checked.iter().flat_map(|file| {
        let assemblies = file.facts.assemblies.iter().map(|facts| &facts.assembly);
        let of_assemblies = assemblies.flat_map(|a| a.waivers.iter().map(|waiver| (&a.name, waiver)));
        let details = file.facts.details.iter().map(|facts| &facts.detail);
        of_assemblies.chain(details.flat_map(|d| d.waivers.iter().map(|waiver| (&d.name, waiver))))
    })
}
