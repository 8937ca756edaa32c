//! Hands each request to the function that answers it. If one fails, the server goes on.

use std::panic::AssertUnwindSafe;

use lsp_server::{ErrorCode, Request, RequestId, Response};
use lsp_types::WorkspaceSymbolResponse;
use lsp_types::request::{
    CodeActionRequest, Completion, DocumentSymbolRequest, FoldingRangeRequest, Formatting, GotoDefinition,
    HoverRequest, InlayHintRequest, PrepareRenameRequest, References, Rename, Request as Method,
    SemanticTokensFullRequest, WorkspaceSymbolRequest,
};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::server::session::refused;
use crate::server::{
    Message, State, actions, complete, drawing, folding, format, hints, hover, references, rename, symbols, tokens,
};

/// Why a request has no answer, in words for the one at the keyboard.
pub type Refusal = String;

pub fn answer(state: &State, request: Request) -> Response {
    let id = request.id.clone();
    let Request { method, params, .. } = request;
    let done = guarded(|| match &*method {
        HoverRequest::METHOD => on::<HoverRequest>(state, params, |state, asked| Ok(hover::hover(state, &asked))),
        Completion::METHOD => {
            on::<Completion>(state, params, |state, asked| Ok(complete::complete(state, &asked).map(Into::into)))
        }
        GotoDefinition::METHOD => on::<GotoDefinition>(state, params, |state, asked| {
            Ok(references::definition(state, &asked.text_document_position_params).map(Into::into))
        }),
        References::METHOD => on::<References>(state, params, |state, asked| Ok(references::references(state, &asked))),
        PrepareRenameRequest::METHOD => on::<PrepareRenameRequest>(state, params, rename::prepare),
        Rename::METHOD => on::<Rename>(state, params, rename::rename),
        DocumentSymbolRequest::METHOD => on::<DocumentSymbolRequest>(state, params, |state, asked| {
            Ok(symbols::of_file(state, &asked.text_document.uri).map(Into::into))
        }),
        WorkspaceSymbolRequest::METHOD => on::<WorkspaceSymbolRequest>(state, params, |state, asked| {
            Ok(Some(WorkspaceSymbolResponse::Flat(symbols::of_libraries(state, &asked.query))))
        }),
        FoldingRangeRequest::METHOD => on::<FoldingRangeRequest>(state, params, |state, asked| {
            Ok(folding::folding(state, &asked.text_document.uri))
        }),
        Formatting::METHOD => {
            on::<Formatting>(state, params, |state, asked| format::format(state, &asked.text_document.uri))
        }
        InlayHintRequest::METHOD => {
            on::<InlayHintRequest>(state, params, |state, asked| Ok(hints::hints(state, &asked)))
        }
        SemanticTokensFullRequest::METHOD => on::<SemanticTokensFullRequest>(state, params, |state, asked| {
            Ok(tokens::tokens(state, &asked.text_document.uri).map(Into::into))
        }),
        CodeActionRequest::METHOD => {
            on::<CodeActionRequest>(state, params, |state, asked| Ok(Some(actions::actions(state, &asked))))
        }
        drawing::METHOD => with(state, params, |state, asked| drawing::drawing(state, &asked)),
        _ => Err((ErrorCode::MethodNotFound, Message::UnknownRequest { method: &method }.words())),
    });
    responded(id, done)
}

/// Reads what is asked and writes the answer of one kind of request.
fn on<R: Method>(
    state: &State,
    params: Value,
    work: impl FnOnce(&State, R::Params) -> Result<R::Result, Refusal>,
) -> Result<Value, (ErrorCode, String)> {
    with(state, params, work)
}

fn with<P: DeserializeOwned, A: Serialize>(
    state: &State,
    params: Value,
    work: impl FnOnce(&State, P) -> Result<A, Refusal>,
) -> Result<Value, (ErrorCode, String)> {
    let asked = serde_json::from_value(params).map_err(|error| (ErrorCode::InvalidParams, error.to_string()))?;
    let answer = work(state, asked).map_err(|why| (ErrorCode::RequestFailed, why))?;
    serde_json::to_value(answer).map_err(|error| (ErrorCode::InternalError, error.to_string()))
}

fn responded(id: RequestId, done: Option<Result<Value, (ErrorCode, String)>>) -> Response {
    match done {
        Some(Ok(value)) => Response::new_ok(id, value),
        Some(Err((code, why))) => refused(id, code, why),
        None => refused(id, ErrorCode::InternalError, Message::Failed.words()),
    }
}

/// `None` when the work panicked. What it read stays as it was: answers change nothing.
pub fn guarded<T>(work: impl FnOnce() -> T) -> Option<T> {
    std::panic::catch_unwind(AssertUnwindSafe(work)).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_request_that_panics_is_answered_and_the_next_one_too() {
        let bad = responded(1.into(), guarded(|| panic!("on purpose")));
        assert_eq!(bad.response_kind_code(), Some(ErrorCode::InternalError as i32));
        let good = responded(2.into(), guarded(|| Ok(Value::Null)));
        assert_eq!(good.response_kind_code(), None);
    }

    trait Code {
        fn response_kind_code(&self) -> Option<i32>;
    }

    impl Code for Response {
        fn response_kind_code(&self) -> Option<i32> {
            serde_json::to_value(self).ok()?["error"]["code"].as_i64().map(|code| code as i32)
        }
    }
}
