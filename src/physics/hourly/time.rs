//! Dates and hours in the ways that weather tables write them.

/// An hour of a year of 366 days. The number of the year is ignored, since typical years are put together from several.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hour {
    /// 0 to 11.
    pub month: usize,
    /// 1 to 31.
    pub day: usize,
    /// 0 to 24, as written; 24 is the last hour of its day.
    pub hour: usize,
}

const DAYS: [usize; 12] = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const YEAR: usize = 366 * 24;
const LEAP_DAY: usize = 59 * 24;
const MARCH: usize = 60 * 24;

/// Why a time cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BadTime {
    Unreadable,
    NoSuchTime,
}

impl Hour {
    pub fn new(month: usize, day: usize, hour: usize) -> Result<Hour, BadTime> {
        if (1..=12).contains(&month) && (1..=DAYS[month - 1]).contains(&day) && hour <= 24 {
            Ok(Hour { month: month - 1, day, hour })
        } else {
            Err(BadTime::NoSuchTime)
        }
    }

    fn number(self) -> usize {
        (DAYS[..self.month].iter().sum::<usize>() + self.day - 1) * 24 + self.hour
    }

    /// Hours between the end of this one and the beginning of `next`: 0 if `next` follows, none if it is the same hour or an
    /// earlier one. December goes over into January, and February into March with or without its 29th.
    pub fn missing_before(self, next: Hour) -> Option<usize> {
        let (from, to) = (self.number(), next.number());
        let mut steps = (to + YEAR - from) % YEAR;
        // From before 29 February to 1 March or later: a common year has a day less in between.
        if from <= LEAP_DAY && to >= MARCH && to - from > 24 {
            steps -= 24;
        }
        if steps == 0 || steps > YEAR / 2 { None } else { Some(steps - 1) }
    }
}

/// The order of day and month in dates with slashes. Only the table as a whole shows which it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slashes {
    MonthFirst,
    DayFirst,
}

/// Reads `date`, and the hour after it or in `clock`: `2005-01-31T13:00`, `2005-01-31 13:00`, `20050131:1300`, `01/31/2005`
/// with `13:00`, `31.01.2005 13:00`. Minutes and time zone offsets are ignored.
pub fn parse(date: &str, clock: Option<&str>, slashes: Slashes) -> Result<Hour, BadTime> {
    let date = date.trim();
    let cut = date.find(|c: char| !(c.is_ascii_digit() || "-/.".contains(c))).unwrap_or(date.len());
    let (day_part, rest) = date.split_at(cut);
    let numbers: Option<Vec<usize>> = day_part.split(['-', '/', '.']).map(|n| n.parse().ok()).collect();
    let numbers = numbers.ok_or(BadTime::Unreadable)?;
    let (month, day) = match numbers[..] {
        [packed] if day_part.len() == 8 => (packed / 100 % 100, packed % 100),
        [a, month, day] if day_part.find(['-', '/', '.']) == Some(4) && a > 0 => (month, day),
        [day, month, _] if day_part.contains('.') => (month, day),
        [month, day, _] if slashes == Slashes::MonthFirst => (month, day),
        [day, month, _] => (month, day),
        _ => return Err(BadTime::Unreadable),
    };
    let clock = clock.unwrap_or(rest).trim_start_matches(['T', 't', ':', ' ']).trim();
    Hour::new(month, day, hour_of(clock).ok_or(BadTime::Unreadable)?)
}

/// The hour of `13:00`, `1300` or `13`.
pub fn hour_of(clock: &str) -> Option<usize> {
    let clock = clock.trim();
    let digits = clock.find(|c: char| !c.is_ascii_digit()).unwrap_or(clock.len());
    match digits {
        1 | 2 => clock[..digits].parse().ok(),
        3 | 4 => clock[..digits - 2].parse().ok(),
        _ => None,
    }
}

/// Whether the first number of `date` is more than 12, so that it can only be the day.
pub fn starts_with_day(date: &str) -> bool {
    date.trim()
        .split_once('/')
        .and_then(|(first, _)| first.parse::<usize>().ok())
        .is_some_and(|n| (13..=31).contains(&n))
}
