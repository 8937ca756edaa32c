//! Monthly means of the hours of a table.

use crate::physics::hourly::table::Table;
use crate::physics::hourly::{TableError, Trouble};
use crate::physics::{saturation_pressure, saturation_pressure_over_water};

/// Means of a month: temperature in C, relative humidity 0 to 1.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct MonthlyMean {
    pub temperature: f64,
    pub humidity: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub struct MonthlyMeans {
    /// January first.
    pub months: [MonthlyMean; 12],
    /// The number of hours in the mean.
    pub hours: usize,
}

/// The most errors that are listed.
const LISTED: usize = 20;

/// Monthly means of whole years without gaps.
///
/// The humidity of a month is the mean vapor pressure of its hours over the saturation pressure of its mean temperature. ISO
/// 13788 computes with vapor pressures. A plain mean of relative humidity would not give their mean, since the air is most
/// humid when it is coldest. The humidity of an hour is over liquid water at every temperature, as stations report it (WMO-No.
/// 8); that of the month is over ice below 0 C, as ISO 13788 reads it, and at most 1.
pub fn of(table: &Table) -> Result<MonthlyMeans, Vec<TableError>> {
    let mut errors = table.errors.clone();
    // If none is above 1 in a whole year, they are fractions.
    let fractions = table.rows.iter().all(|r| r.humidity <= 1.0);
    let to_share = if fractions { 1.0 } else { 0.01 };
    for pair in table.rows.windows(2) {
        let error = |trouble| TableError { line: Some(pair[1].line), trouble };
        // A row that could not be read is already an error, and is not reported as a gap as well.
        let before = |line: usize| table.errors.partition_point(|e| e.line < Some(line));
        let unread = before(pair[1].line) - before(pair[0].line);
        match pair[0].hour.missing_before(pair[1].hour) {
            None => errors.push(error(Trouble::Backward)),
            Some(hours) if hours > unread => errors.push(error(Trouble::Gap { hours: hours - unread })),
            Some(_) => {}
        }
    }
    for row in &table.rows {
        if !fractions && row.humidity > 0.0 && row.humidity < 1.0 {
            errors.push(TableError { line: Some(row.line), trouble: Trouble::Fraction { written: row.humidity } });
        }
    }
    errors.sort_by_key(|e| e.line);
    if errors.len() > LISTED {
        let more = errors.len() - LISTED;
        errors.truncate(LISTED);
        errors.push(TableError { line: None, trouble: Trouble::Many { more } });
    }
    let rows = table.rows.len() + table.errors.len();
    let closed = match (table.rows.first(), table.rows.last()) {
        (Some(first), Some(last)) => last.hour.missing_before(first.hour) == Some(0),
        _ => false,
    };
    if rows < 8760 || errors.is_empty() && !closed {
        errors.push(TableError { line: None, trouble: Trouble::NotWholeYears { rows } });
    }
    if !errors.is_empty() {
        return Err(errors);
    }

    let mut sums = [(0.0, 0.0, 0.0); 12];
    for row in &table.rows {
        let (hours, temperature, pressure) = &mut sums[row.hour.month];
        *hours += 1.0;
        *temperature += row.temperature;
        // p = phi psat(t)
        *pressure += row.humidity * to_share * saturation_pressure_over_water(row.temperature);
    }
    let months = sums.map(|(hours, temperature, pressure)| {
        let temperature = temperature / hours;
        MonthlyMean { temperature, humidity: (pressure / hours / saturation_pressure(temperature)).min(1.0) }
    });
    Ok(MonthlyMeans { months, hours: table.rows.len() })
}
