//! The core behind the page: one request in, one answer out, both as JSON in memory that the page reads and writes.
//!
//! The page asks for [`room`], writes its request there, calls [`answer`], and reads [`length`] bytes.

mod answer;
mod request;
mod rules;

use std::cell::RefCell;

use rules::Rules;

thread_local! {
    static REQUEST: RefCell<Vec<u8>> = const { RefCell::new(Vec::new()) };
    static ANSWER: RefCell<Vec<u8>> = const { RefCell::new(Vec::new()) };
    static RULES: RefCell<Rules> = RefCell::new(Rules::default());
}

/// Room for a request of so many bytes.
#[unsafe(no_mangle)]
pub extern "C" fn room(length: usize) -> *mut u8 {
    REQUEST.with_borrow_mut(|request| {
        request.clear();
        request.resize(length, 0);
        request.as_mut_ptr()
    })
}

/// Does what the request asks. The answer stays until the next one.
#[unsafe(no_mangle)]
pub extern "C" fn answer() -> *const u8 {
    let done = REQUEST.with_borrow(|request| RULES.with_borrow_mut(|rules| answer::to(rules, request)));
    ANSWER.with_borrow_mut(|answer| {
        *answer = done;
        answer.as_ptr()
    })
}

/// The bytes of the answer.
#[unsafe(no_mangle)]
pub extern "C" fn length() -> usize {
    ANSWER.with_borrow(Vec::len)
}
