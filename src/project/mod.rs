//! The only module that touches files.

mod brought;
mod cache;
mod changed;
mod home;
mod includes;
mod known;
mod load;
mod message;
mod names;
mod open;
mod outputs;
mod read;
mod reading;
mod review;
mod rule_files;
mod shown;
mod stamp;
mod start;
mod texts;
mod unsaved;
mod walk;
mod write;

pub use brought::brought_settings;
use cache::Stamp;
pub use cache::{Cache, default_folder as cache_folder};
pub use changed::{changed_since, concerned, names};
pub use home::{Home, folder_of, home_of, libraries, top_of};
pub use includes::Includes;
pub use known::{Known, KnownEntry};
pub use message::Message;
pub use names::{Defined, defined, defined_in, item_names};
pub use open::{Project, for_submittal, open, open_at, open_over, rules, rules_over};
pub use outputs::{check_outputs, inputs, is_standard_output};
pub use read::{LARGEST, Unreadable, bytes, decode, look, read, read_known};
pub use reading::{library_of, reading};
pub use review::{Review, review, review_from};
pub use rule_files::rule_files;
pub use shown::{plain, shown, working};
pub use stamp::stamp_of;
pub use start::start;
pub use unsaved::Unsaved;
pub use walk::{Found, Walked, is_named_detail, walk};
pub use write::{folder, remove, rewrite, write_whole};

pub use crate::settings::{Config, Folder, KEYS as SETTINGS_KEYS, LAYERS, NAME as SETTINGS, fail_on, of as settings};
