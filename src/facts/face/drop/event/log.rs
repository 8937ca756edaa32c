//! A log of what drops meet, and the events made of it.

use super::{DropEnd, DropEvent, DropStep, Drops, End, Event, Fall};
use crate::facts::face::budget::{self, Excess, TooLarge};
use crate::facts::face::{Coordinate, turned};

/// An event as one drop meets it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Encounter {
    pub event: Event,
    pub pieces: [Option<usize>; 2],
    pub up: Coordinate,
    pub exposed: bool,
}

/// Everything that drops met, as it comes.
#[derive(Default)]
pub struct DropLog {
    entries: Vec<(Encounter, DropEnd)>,
    steps: Vec<DropStep>,
    /// The end of a drop that met nothing: it drained, or was held.
    drained: Option<DropEnd>,
    held: Option<DropEnd>,
    /// Whole paths, when they are asked for instead of events.
    falls: Option<Vec<Fall>>,
    /// The drops are in a pan, which is there to lead them out. What such a drop meets is not logged where it runs off again.
    caught: bool,
    /// Heights are given upside down.
    turned: bool,
}

impl DropLog {
    /// A log that keeps every path.
    pub fn of_falls() -> DropLog {
        DropLog { falls: Some(Vec::new()), ..DropLog::default() }
    }

    /// Sets whether the drops that follow are in pans or are rain.
    pub fn catch(&mut self, caught: bool) {
        self.caught = caught;
    }

    /// Sets whether the heights that follow are upside down.
    pub fn turn(&mut self, turned: bool) {
        self.turned = turned;
    }

    pub fn into_falls(self) -> Vec<Fall> {
        self.falls.unwrap_or_default()
    }

    /// Logs how a drop ended, for each thing that it met; if it met nothing, only that there was such a drop.
    pub fn record(&mut self, met: &[Encounter], end: End, trail: &[DropStep]) -> Result<(), TooLarge> {
        let flip = self.turned;
        let height = |up| if flip { turned(up) } else { up };
        let upright = |step: &DropStep| DropStep { up: height(step.up), ..*step };
        if let Some(falls) = &mut self.falls {
            let relies = met.iter().find(|m| m.event == Event::Relies).map(|m| m.pieces);
            let lost = relies.and_then(|[edge, on]| Some([edge?, on?]));
            budget::at_most(falls.len(), budget::MAX_TRAIL, Excess::Trail)?;
            falls.push(Fall { end, trail: trail.iter().map(upright).collect(), lost });
            return Ok(());
        }
        if self.caught && end == End::Drains {
            return Ok(());
        }
        let place = self.steps.len()..self.steps.len() + trail.len();
        let quiet = match end {
            End::Held => &mut self.held,
            _ => &mut self.drained,
        };
        if met.is_empty() && quiet.is_some() {
            return Ok(());
        }
        budget::at_most(place.end, budget::MAX_TRAIL, Excess::Trail)?;
        self.steps.extend(trail.iter().map(upright));
        let entry = |up| DropEnd { end, up: height(up), trail: place.clone() };
        if met.is_empty() {
            *quiet = trail.last().map(|last| entry(last.up));
        }
        self.entries.extend(met.iter().map(|m| (*m, entry(m.up))));
        budget::at_most(self.entries.len(), budget::MAX_TRAIL, Excess::Trail)
    }

    /// The events. Equal ones are merged, and for each kind of end the first drop is kept as the example.
    pub fn drops(mut self) -> Drops {
        if self.entries.is_empty() {
            let quiet = [(Event::Drains, self.drained), (Event::Held, self.held)];
            let event = |(event, end): (Event, Option<DropEnd>)| {
                Some(DropEvent { event, pieces: [None; 2], ends: vec![end?], exposed: true })
            };
            return Drops { events: quiet.into_iter().filter_map(event).collect(), steps: self.steps };
        }
        self.entries.sort_by_key(|(met, end)| (met.event, met.pieces, end.end));
        let mut events: Vec<DropEvent> = Vec::new();
        for (met, end) in self.entries {
            match events.last_mut() {
                Some(last) if (last.event, last.pieces) == (met.event, met.pieces) => {
                    last.exposed |= met.exposed;
                    if last.ends.last().is_none_or(|l| l.end != end.end) {
                        last.ends.push(end);
                    }
                }
                _ => events.push(DropEvent {
                    event: met.event,
                    pieces: met.pieces,
                    ends: vec![end],
                    exposed: met.exposed,
                }),
            }
        }
        Drops { events, steps: self.steps }
    }
}
