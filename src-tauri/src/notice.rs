//! Notices of the system: said when a clock is over while another window is in front.

use trowelogue_api::{ApiError, ErrorCode, Result};

/// Shows a notice in the system's own way. It goes to the desktop's own service and nowhere else.
#[tauri::command]
pub(crate) async fn notice(text: String) -> Result<()> {
    tauri::async_runtime::spawn_blocking(move || show(&text))
        .await
        .map_err(|error| crate::desk::cut_short(&error))?
}

#[cfg(desktop)]
fn show(text: &str) -> Result<()> {
    let shown =
        notify_rust::Notification::new().appname("Trowelogue").summary("Trowelogue").body(text).show();
    shown.map(drop).map_err(|error| refused(&error.to_string()))
}

#[cfg(mobile)]
fn show(_: &str) -> Result<()> {
    Err(refused("not on this kind of device"))
}

fn refused(why: &str) -> ApiError {
    ApiError::new(ErrorCode::Usage, format!("The system shows no notices: {why}"))
}
