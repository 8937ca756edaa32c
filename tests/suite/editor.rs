//! The extension in a real editor of the VS Code family: what an architect does there works.

use std::path::{Path, PathBuf};
use std::process::Command;

use crate::report::browser;

/// It takes minutes to start such an editor, so that no other run waits for it. `HEADLAP_EDITOR` is the program, else `code-server`
/// of the search path; `npm run package` in editors/vscode makes the extension. Without one of them the test says that it was skipped.
#[test]
#[ignore = "starts an editor: cargo test --test suite -- --ignored editor"]
fn the_extension_works_in_an_editor() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let checks = root.join("tests/browser");
    let extension = root.join("editors/vscode").join(format!("headlap-{}.vsix", env!("CARGO_PKG_VERSION")));
    let ready = checks.join("node_modules").is_dir() && extension.is_file();
    let Some((editor, browser)) = editor().zip(browser()).filter(|_| ready) else {
        eprintln!(
            "skipped: the extension was not opened in an editor (needs HEADLAP_EDITOR or code-server, chromium, \
             npm ci in tests/browser, npm run package in editors/vscode)"
        );
        return;
    };
    let mut check = Command::new("node");
    check.arg(checks.join("editor.mjs")).args([&browser, &editor]);
    check.arg(assert_cmd::cargo::cargo_bin!("headlap")).arg(root.join("examples/millrace")).arg(extension);
    let done = check.output().expect("node runs");
    let said = format!("{}{}", String::from_utf8_lossy(&done.stdout), String::from_utf8_lossy(&done.stderr));
    assert!(done.status.success(), "{said}");
}

fn editor() -> Option<PathBuf> {
    let named = std::env::var_os("HEADLAP_EDITOR").map(PathBuf::from);
    let path = std::env::var_os("PATH").unwrap_or_default();
    let usual = std::env::split_paths(&path).map(|folder| folder.join("code-server"));
    named.into_iter().chain(usual).find(|file| file.is_file())
}
