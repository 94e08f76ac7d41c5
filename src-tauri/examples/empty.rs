//! For benchmarks only: the shell's own window with nothing in it, the yardstick for how soon the app shows the day.
//!
//! It has the app's configuration, size and permissions; its page is a heading, and no command is behind it.

use tauri::http::{HeaderValue, Response};
use tauri::utils::config::WindowConfig;
use tauri::{Builder, WebviewUrl, WebviewWindowBuilder};

const PAGE: &str = "<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\"><title>Empty</title></head>\
    <body><main><h1>Empty</h1></main></body></html>";

fn main() {
    let mut context = trowelogue_app::context();
    let Some(window) = context.config_mut().app.windows.pop() else { return };
    let app = Builder::default()
        .register_uri_scheme_protocol("empty", |_, _| {
            let mut page = Response::new(PAGE.as_bytes().to_vec());
            page.headers_mut().insert("content-type", HeaderValue::from_static("text/html"));
            page
        })
        .setup(move |app| {
            let address = WebviewUrl::CustomProtocol("empty://localhost/".parse()?);
            let empty = WindowConfig { url: address, ..window };
            WebviewWindowBuilder::from_config(app.handle(), &empty)?.build()?;
            Ok(())
        });
    app.run(context).expect("a window");
}
