//! The day of a review. Waivers end on days; where there are none, the day is not asked for.

use std::sync::{Arc, LazyLock};

use jiff::civil::Date;

/// The same for the whole of a review, asked for once.
#[derive(Clone)]
pub struct Day(Arc<LazyLock<Date, Ask>>);

type Ask = Box<dyn FnOnce() -> Date + Send>;

impl Day {
    /// To be asked for at need: to know the day where it stands, a system looks through hundreds of files.
    pub fn asked(ask: impl FnOnce() -> Date + Send + 'static) -> Day {
        Day(Arc::new(LazyLock::new(Box::new(ask))))
    }

    pub fn date(&self) -> Date {
        **self.0
    }
}

impl From<Date> for Day {
    fn from(date: Date) -> Day {
        Day::asked(move || date)
    }
}
