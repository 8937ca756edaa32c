//! Why files and folders could not be read: each reason in one place.

use std::io;

/// What stopped a file or a folder from being read. The code that finds it builds the variant; its wording is here.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unread {
    // A file.
    Missing,
    Forbidden,
    Folder,
    NotRegular,
    TooLarge {
        megabytes: u64,
    },
    Utf16,
    /// From some place on.
    NotUtf8,
    System {
        why: String,
    },
    /// What an include names.
    OutsideLibrary {
        root: String,
    },
    NeverSaved,
    // What a walk does not look into.
    LinkOutside,
    StrangeIgnores,
    ForbiddenFolder,
    Vanished,
    NotListed {
        why: String,
    },
    /// Details below a submittal that an ignore file would hide.
    Hidden {
        files: usize,
    },
    // A path that rules are read from.
    NothingThere,
    NoRuleFile,
}

impl Unread {
    /// After the name of the file and a colon.
    pub fn words(&self) -> String {
        let words = match self {
            Unread::Missing => "there is no such file",
            Unread::Forbidden => "its permissions do not allow reading it",
            Unread::Folder => "it is a folder, not a file",
            Unread::NotRegular => "it is not a regular file (a pipe, a socket or a device)",
            Unread::TooLarge { megabytes } => return format!("it is larger than {megabytes} MB, the limit"),
            Unread::Utf16 => "it is UTF-16 text, not UTF-8",
            Unread::NotUtf8 => "from here on, it is not UTF-8 text",
            Unread::System { why } => return format!("it cannot be read: {why}"),
            Unread::OutsideLibrary { root } => {
                return format!(
                    "it is outside the library's folder, {root}; put headlap.toml in a folder above both to make that folder the library"
                );
            }
            Unread::NeverSaved => "this text has no folder to look in yet; save it first",

            Unread::LinkOutside => "it is a link to a place outside the library's folder",
            Unread::StrangeIgnores => "its .gitignore is too large or not a regular file",
            Unread::ForbiddenFolder => "its permissions do not allow listing it",
            Unread::Vanished => "it was removed while headlap was reading the folder",
            Unread::NotListed { why } => return format!("it cannot be listed: {why}"),
            Unread::Hidden { files } => {
                let files = if *files == 1 { "1 file".to_owned() } else { format!("{files} files") };
                return format!("its .gitignore files leave out {files}, which the issued details do not leave out");
            }

            Unread::NothingThere => "there is no such file or folder",
            Unread::NoRuleFile => "the folder has no rule file (*.toml)",
        };
        words.to_owned()
    }

    /// What to do, where something helps.
    pub fn fix(&self) -> Option<&'static str> {
        match self {
            Unread::TooLarge { .. } => Some("Split it into files of one topic each."),
            Unread::Utf16 | Unread::NotUtf8 => Some("Save the file again as UTF-8."),
            Unread::Missing | Unread::Forbidden | Unread::Folder | Unread::NotRegular | Unread::System { .. } => None,
            Unread::OutsideLibrary { .. } | Unread::NeverSaved | Unread::LinkOutside | Unread::StrangeIgnores => None,
            Unread::ForbiddenFolder | Unread::Vanished | Unread::NotListed { .. } | Unread::Hidden { .. } => None,
            Unread::NothingThere | Unread::NoRuleFile => None,
        }
    }
}

impl From<&io::Error> for Unread {
    fn from(error: &io::Error) -> Unread {
        match error.kind() {
            io::ErrorKind::NotFound => Unread::Missing,
            io::ErrorKind::PermissionDenied => Unread::Forbidden,
            _ => Unread::System { why: error.to_string() },
        }
    }
}
