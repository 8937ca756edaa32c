//! What a client says of itself when a session begins. Whatever of it cannot be read is as if it had not been said: what a client can do
//! besides is none of our business.

use std::path::PathBuf;

use lsp_types::PositionEncodingKind;
use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::server::address::path_of;
use crate::server::position::Encoding;

pub struct Greeting {
    pub encoding: Encoding,
    /// The folders that the editor has open.
    pub folders: Vec<PathBuf>,
    /// It can be asked to report files that change on disk.
    pub watches: bool,
}

impl Greeting {
    pub fn of(said: &Value) -> Greeting {
        let encodings: Vec<PositionEncodingKind> = read(said, "/capabilities/general/positionEncodings");
        let watches = "/capabilities/workspace/didChangeWatchedFiles/dynamicRegistration";
        Greeting {
            encoding: Encoding::agreed(&encodings),
            folders: open_folders(said),
            watches: said.pointer(watches).and_then(Value::as_bool).unwrap_or(false),
        }
    }
}

/// Older clients have one folder, as an address or as a path.
fn open_folders(said: &Value) -> Vec<PathBuf> {
    let several = folders(said.get("workspaceFolders"));
    if !several.is_empty() {
        return several;
    }
    let address = said.get("rootUri").and_then(folder);
    let path = || said.get("rootPath")?.as_str().map(PathBuf::from).filter(|path| path.is_absolute());
    address.or_else(path).into_iter().collect()
}

/// The folders of a list of the protocol.
pub fn folders(list: Option<&Value>) -> Vec<PathBuf> {
    let entries = list.and_then(Value::as_array).into_iter().flatten();
    entries.filter_map(|entry| folder(entry.get("uri")?)).collect()
}

fn folder(address: &Value) -> Option<PathBuf> {
    // Some write a space as it is.
    path_of(&address.as_str()?.replace(' ', "%20").parse().ok()?)
}

fn read<T: DeserializeOwned + Default>(said: &Value, pointer: &str) -> T {
    said.pointer(pointer).and_then(|value| serde_json::from_value(value.clone()).ok()).unwrap_or_default()
}
