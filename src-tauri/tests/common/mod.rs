//! The shell on tauri's mock runtime: real configuration, real permissions, real commands, no display.
//! The mock runtime's interface is marked unstable; it is touched here only.

use std::path::PathBuf;

use serde_json::Value;
use tauri::ipc::{CallbackFn, InvokeBody};
use tauri::test::{INVOKE_KEY, MockRuntime, get_ipc_response, mock_builder};
use tauri::webview::InvokeRequest;
use tauri::{Manager, WebviewWindow, WebviewWindowBuilder};
use trowelogue_api::Desk;
use trowelogue_app::{Holder, context, equip};

/// A window labelled `label` over a desk; `folder` is the shop named at the start.
pub(crate) fn window(label: &str, desk: Desk, folder: Option<PathBuf>) -> WebviewWindow<MockRuntime> {
    let app = equip(mock_builder()).build(context()).expect("the app is built");
    app.manage(Holder::new(Ok(desk), folder));
    app.get_webview_window(label).unwrap_or_else(|| {
        WebviewWindowBuilder::new(&app, label, tauri::WebviewUrl::default())
            .build()
            .expect("a window is built")
    })
}

/// Calls a command as the page would.
pub(crate) fn call(
    window: &WebviewWindow<MockRuntime>,
    command: &str,
    arguments: Value,
) -> Result<Value, Value> {
    let request = InvokeRequest {
        cmd: command.into(),
        callback: CallbackFn(0),
        error: CallbackFn(1),
        url: "tauri://localhost".parse().expect("an address"),
        body: InvokeBody::Json(arguments),
        headers: Default::default(),
        invoke_key: INVOKE_KEY.into(),
    };
    get_ipc_response(window, request).map(|body| body.deserialize().expect("an answer in JSON"))
}
