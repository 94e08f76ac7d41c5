//! The window.
use tauri::Runtime;

/// ctx
pub fn context<R: Runtime>() -> tauri::Context<R> {
    tauri::generate_context!()
}
#[cfg_attr(mobile, tauri::mobile_entry_point)]
pub fn run() {
    let mut b = tauri::Builder::default();
    #[cfg(desktop)]
    { b = b.plugin(tauri_plugin_single_instance::init(|_, _, _| {})); }
    b.plugin(tauri_plugin_dialog::init()).plugin(tauri_plugin_opener::init()).run(context()).expect("x");
}
