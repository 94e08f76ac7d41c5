//! For browser tests only, never in a released program: serves the built front end on loopback and answers
//! `POST /ipc/COMMAND` by running the shell's real commands on tauri's mock runtime.
//!
//! `bridge --home DIR [--folder DIR]` prints its address on one line and ends when its standard input closes.

#[path = "../tests/common/mod.rs"]
mod common;

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Condvar, Mutex};
use std::time::Duration;

use serde_json::{Value, json};
use tauri::WebviewWindow;
use tauri::test::MockRuntime;
use trowelogue_api::dto::Changed;
use trowelogue_api::{Clock, Desk};
use trowelogue_app::Args;

/// The app's policy, with the page's own address in place of the way to Rust.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; \
    font-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'";

/// The last change of the shop, and who waits for the next.
#[derive(Default)]
struct Changes {
    last: Mutex<Option<Changed>>,
    came: Condvar,
}

impl Changes {
    fn put(&self, changed: Changed) {
        *self.last.lock().expect("not poisoned") = Some(changed);
        self.came.notify_all();
    }

    /// Waits up to 20 s for a change later than `generation`.
    fn after(&self, generation: u64) -> Option<Changed> {
        let last = self.last.lock().expect("not poisoned");
        let is_old =
            |it: &mut Option<Changed>| it.as_ref().is_none_or(|changed| changed.generation <= generation);
        let (last, waited) =
            self.came.wait_timeout_while(last, Duration::from_secs(20), is_old).expect("not poisoned");
        if waited.timed_out() { None } else { last.clone() }
    }
}

fn main() {
    let args = Args::read(std::env::args_os().skip(1), None);
    let home = args.home.expect("--home DIR");
    let desk = Desk::new(home, Clock::System);
    let changes = Arc::new(Changes::default());
    let heard = Arc::clone(&changes);
    desk.watch(move |changed| heard.put(changed));
    let window = common::window("main", desk, args.folder);
    let listener = TcpListener::bind("127.0.0.1:0").expect("a loopback port");
    let address = listener.local_addr().expect("an address");
    writeln!(std::io::stdout(), "http://{address}/").expect("a reader");
    std::thread::spawn(move || {
        for stream in listener.incoming().flatten() {
            let (window, changes) = (window.clone(), Arc::clone(&changes));
            std::thread::spawn(move || answer(&window, &changes, stream));
        }
    });
    let mut rest = Vec::new();
    drop(std::io::stdin().read_to_end(&mut rest));
}

fn answer(window: &WebviewWindow<MockRuntime>, changes: &Changes, mut stream: TcpStream) {
    let Some((path, body)) = request(&stream) else { return };
    let (status, kind, content) = if let Some(command) = path.strip_prefix("/ipc/") {
        match common::call(window, command, body) {
            Ok(value) => (200, "application/json", value.to_string().into_bytes()),
            Err(error) => (400, "application/json", error.to_string().into_bytes()),
        }
    } else if path == "/changed" {
        let changed = changes.after(body["after"].as_u64().unwrap_or_default());
        (200, "application/json", json!(changed).to_string().into_bytes())
    } else {
        file(&path)
    };
    let head = format!(
        "HTTP/1.1 {status} -\r\ncontent-type: {kind}\r\ncontent-security-policy: {POLICY}\r\n\
        cache-control: no-store\r\ncontent-length: {}\r\nconnection: close\r\n\r\n",
        content.len()
    );
    // A page that was closed in the meantime reads nothing more.
    drop(stream.write_all(head.as_bytes()).and_then(|()| stream.write_all(&content)));
}

/// Path and JSON body of a request.
fn request(stream: &TcpStream) -> Option<(String, Value)> {
    let mut reader = BufReader::new(stream);
    let mut line = String::new();
    reader.read_line(&mut line).ok()?;
    let path = line.split(' ').nth(1)?.split('?').next()?.to_owned();
    let mut length = 0;
    loop {
        let mut header = String::new();
        if reader.read_line(&mut header).ok()? <= 2 {
            break;
        }
        if let Some(value) = header.to_ascii_lowercase().strip_prefix("content-length:") {
            length = value.trim().parse().ok()?;
        }
    }
    let mut body = vec![0; length];
    reader.read_exact(&mut body).ok()?;
    Some((path, serde_json::from_slice(&body).unwrap_or(json!({}))))
}

fn file(path: &str) -> (u16, &'static str, Vec<u8>) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../ui/dist");
    let name = if path == "/" { "index.html" } else { path.trim_start_matches('/') };
    let place: PathBuf = root.join(name);
    let kind = match place.extension().and_then(|end| end.to_str()) {
        Some("html") => "text/html",
        Some("js") => "text/javascript",
        Some("css") => "text/css",
        Some("woff2") => "font/woff2",
        _ => "text/plain",
    };
    match std::fs::read(&place) {
        Ok(content) if !name.contains("..") => (200, kind, content),
        _ => (404, "text/plain", Vec::new()),
    }
}
