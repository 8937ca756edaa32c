//! Reading one file whole, within limits, whatever it turns out to be.

use std::fs::{self, File, Metadata};
use std::io::Read;
use std::ops::Range;
use std::path::Path;

use crate::project::Unread;

/// Bytes of the largest file that is read. A library of thousands of details has files of some kilobytes;
/// whatever is larger than this was not written as details.
pub const LARGEST: u64 = 16 * 1024 * 1024;

/// A file that could not be read, with the place where reading ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unreadable {
    pub why: Unread,
    /// What could be read, for showing the place; empty when nothing could.
    pub text: String,
    /// Bytes of `text`.
    pub at: Range<usize>,
}

/// The text of a file, without a byte-order mark.
///
/// # Errors
/// Missing or forbidden files, folders, pipes and devices (which are never opened: they could wait forever), files
/// over `LARGEST`, text that is not UTF-8.
pub fn read(path: &Path) -> Result<String, Unreadable> {
    decode(bytes(path)?)
}

/// What the system knows of a file, for `read_known`.
///
/// # Errors
/// Missing or forbidden files.
pub fn look(path: &Path) -> Result<Metadata, Unreadable> {
    fs::metadata(path).map_err(|error| Unread::from(&error).into())
}

/// The text of a file that was looked at before.
///
/// # Errors
/// As `read`.
pub fn read_known(path: &Path, about: &Metadata) -> Result<String, Unreadable> {
    decode(bytes_known(path, about)?)
}

/// The bytes of a file.
///
/// # Errors
/// As `read`, but for what the bytes are; of a file over `LARGEST` one byte more than that is given.
pub fn bytes(path: &Path) -> Result<Vec<u8>, Unreadable> {
    bytes_known(path, &look(path)?)
}

/// The text of a file that the program wrote, and that may be larger than what people write.
///
/// # Errors
/// As `read`, with `most` instead of `LARGEST`.
pub fn read_within(path: &Path, most: u64) -> Result<String, Unreadable> {
    decode_within(bytes_within(path, &look(path)?, most)?, most)
}

fn bytes_known(path: &Path, about: &Metadata) -> Result<Vec<u8>, Unreadable> {
    bytes_within(path, about, LARGEST)
}

fn bytes_within(path: &Path, about: &Metadata, most: u64) -> Result<Vec<u8>, Unreadable> {
    if about.is_dir() {
        return Err(Unread::Folder.into());
    }
    if !about.is_file() {
        return Err(Unread::NotRegular.into());
    }
    let mut bytes = Vec::with_capacity(about.len().min(most) as usize + 1);
    // The file may have grown, or be of no stated length, so the limit is held while reading.
    File::open(path)
        .and_then(|file| file.take(most + 1).read_to_end(&mut bytes))
        .map_err(|error| Unread::from(&error))?;
    Ok(bytes)
}

/// Bytes, from a file or from standard input, as text.
///
/// # Errors
/// More than `LARGEST` bytes, or text that is not UTF-8.
pub fn decode(bytes: Vec<u8>) -> Result<String, Unreadable> {
    decode_within(bytes, LARGEST)
}

fn decode_within(mut bytes: Vec<u8>, most: u64) -> Result<String, Unreadable> {
    if bytes.len() as u64 > most {
        return Err(Unread::TooLarge { megabytes: most / 1024 / 1024 }.into());
    }
    if bytes.starts_with(b"\xEF\xBB\xBF") {
        bytes.drain(..3);
    }
    String::from_utf8(bytes).map_err(|error| {
        let good = error.utf8_error().valid_up_to();
        let bytes = error.into_bytes();
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let wide = bytes.starts_with(b"\xFF\xFE") || bytes.starts_with(b"\xFE\xFF");
        let why = if wide { Unread::Utf16 } else { Unread::NotUtf8 };
        let at = good..good + char::REPLACEMENT_CHARACTER.len_utf8();
        Unreadable { why, text, at }
    })
}

/// Nothing of the file could be read.
impl From<Unread> for Unreadable {
    fn from(why: Unread) -> Unreadable {
        Unreadable { why, text: String::new(), at: 0..0 }
    }
}

#[cfg(test)]
mod tests {
    use super::{Unread, decode};

    #[test]
    fn a_byte_that_is_no_text_is_reported_at_its_place() {
        let refused = decode(b"detail \xFF A".to_vec()).expect_err("not UTF-8");
        assert_eq!(&refused.text[refused.at], "\u{FFFD}");
        assert_eq!(decode(b"\xFF\xFEd\0e\0".to_vec()).expect_err("UTF-16").why, Unread::Utf16);
        assert_eq!(decode(b"\xEF\xBB\xBFdetail".to_vec()), Ok("detail".to_owned()));
    }
}
