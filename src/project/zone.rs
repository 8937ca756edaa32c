//! The time zone where the program runs.

use std::{env, fs};

use jiff::tz::TimeZone;

/// This machine's time zone.
pub fn time_zone() -> TimeZone {
    // Looked up by its name, the zone of the system would cost a walk through hundreds of files. It keeps this one for that.
    let local = || TimeZone::tzif("local", &fs::read("/etc/localtime").ok()?).ok();
    let zone = if env::var_os("TZ").is_none() { local() } else { None };
    zone.unwrap_or_else(TimeZone::system)
}
