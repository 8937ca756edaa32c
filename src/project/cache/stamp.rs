//! Whether a file has changed since it was read, from its entry in the folder alone.

use std::fs::Metadata;
use std::time::SystemTime;
#[cfg(unix)]
use std::time::{Duration, UNIX_EPOCH};

use serde::{Deserialize, Serialize};

/// The length, the times of the last write and of the last change of any kind in nanoseconds, and the number of the
/// file. The time of change is kept by the system: unlike the time of writing, it cannot be set back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stamp(u64, i64, i64, u64);

impl Stamp {
    /// Nothing on systems without a time of change, and nothing for a file that was changed so shortly before `now` that
    /// a later change could bear the same time: clocks of file systems tick as slowly as every two seconds.
    #[cfg(unix)]
    pub fn of(about: &Metadata, now: SystemTime) -> Option<Stamp> {
        use std::os::unix::fs::MetadataExt;
        let stamp = |seconds: i64, nanoseconds: i64| seconds.checked_mul(1_000_000_000)?.checked_add(nanoseconds);
        let (written, changed) = (stamp(about.mtime(), about.mtime_nsec())?, stamp(about.ctime(), about.ctime_nsec())?);
        let settled = UNIX_EPOCH + Duration::from_nanos(u64::try_from(changed.max(written)).ok()?) + TICK < now;
        settled.then(|| Stamp(about.len(), written, changed, about.ino()))
    }

    #[cfg(not(unix))]
    pub fn of(_: &Metadata, _: SystemTime) -> Option<Stamp> {
        None
    }
}

#[cfg(unix)]
const TICK: Duration = Duration::from_secs(2);
