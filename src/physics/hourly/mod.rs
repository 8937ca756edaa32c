//! Twelve monthly means from a year of hours, given as a table of text.
//!
//! | part | does |
//! |---|---|
//! | `table` | finds delimiter, header and columns |
//! | `time` | reads dates and hours, and knows which hour follows which |
//! | `mean` | adds the hours up to months |

mod error;
mod mean;
mod table;
mod time;

pub use error::{TableError, Trouble};
pub use mean::{MonthlyMean, MonthlyMeans};

/// Monthly means of the hourly `table`: CSV text with a header row that names a column of temperature (`temperature`,
/// `temp_air`, `T2m`, `Dry-bulb (C)`, …), one of relative humidity (`relative humidity`, `RH`, `RHum (%)`, …) and the
/// time (`time`, or `date` and `time`, or `month`, `day` and `hour`).
///
/// Lines above the header and below the table are ignored; columns are separated by commas, semicolons or tabs. Temperatures
/// are C unless the header says F or K; humidities are percentages, or fractions if none is above 1. The table covers whole
/// years without a gap; months may come from different years, as in typical years.
///
/// Errors: one or more, each with its line, in the order of the lines.
pub fn monthly_means(table: &str) -> Result<MonthlyMeans, Vec<TableError>> {
    let table = table::read(table)?;
    mean::of(&table)
}
