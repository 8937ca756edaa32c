//! The default folder of the cache.

use std::env;
use std::path::PathBuf;

/// The folder for what programs may lose at any time, as each system names it; none where the system names none.
pub fn default_folder() -> Option<PathBuf> {
    let variable = |name: &str| env::var_os(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    let base = if cfg!(windows) {
        variable("LOCALAPPDATA")
    } else if cfg!(target_os = "macos") {
        variable("HOME").map(|home| home.join("Library/Caches"))
    } else {
        // The base directory specification of freedesktop.org: relative paths are to be ignored.
        let set = variable("XDG_CACHE_HOME").filter(|path| path.is_absolute());
        set.or_else(|| variable("HOME").map(|home| home.join(".cache")))
    };
    base.map(|base| base.join("headlap"))
}
