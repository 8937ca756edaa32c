//! The page that needs no installation, in a real browser: what is typed is found as the program finds it.

use std::path::Path;
use std::process::Command;
use std::thread;
use std::time::Duration;

use crate::report::browser;

/// `web/build` makes the page. Without it, or without a browser, the test says that it was skipped, unless
/// HEADLAP_BROWSER=required: then the page may still be on its way.
#[test]
fn the_page_works_in_a_browser() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let checks = root.join("tests/browser");
    let program = assert_cmd::cargo::cargo_bin!("headlap");
    let page = root.join("target/page/headlap.html");
    let required = std::env::var_os("HEADLAP_BROWSER").is_some_and(|value| value == "required");
    let made = |path: &Path| std::fs::metadata(path).and_then(|about| about.modified()).ok();
    for _ in 0..600 {
        if !required || page.is_file() {
            break;
        }
        thread::sleep(Duration::from_secs(1));
    }
    // An old page has the rules of its day.
    let current = made(&page).is_some() && (required || made(&page) >= made(program));
    let Some(browser) = browser().filter(|_| current && checks.join("node_modules").is_dir()) else {
        assert!(!required, "a browser, `npm ci` in tests/browser, and the page that web/build makes are required");
        eprintln!("skipped: the page was not opened in a browser (needs web/build, chromium, npm ci in tests/browser)");
        return;
    };
    let mut check = Command::new("node");
    check.arg(checks.join("page.mjs")).args([&browser, &page]).arg(program).arg(root.join("examples/millrace"));
    check.env_remove("CI").env_remove("HEADLAP_NARRATE");
    let done = check.output().expect("node runs");
    let said = format!("{}{}", String::from_utf8_lossy(&done.stdout), String::from_utf8_lossy(&done.stderr));
    assert!(done.status.success(), "{said}");
}
