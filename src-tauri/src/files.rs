//! The commands that meet the system: dialogs are opened here, so that the page needs no right to files.

use std::path::{Path, PathBuf};

#[cfg(mobile)]
use tauri::Manager;
use tauri::{AppHandle, Runtime, State};
use tauri_plugin_opener::OpenerExt;
use trowelogue_api::{ApiError, Desk, ErrorCode, Result};

use crate::desk::{Holder, at_desk};

/// Asks for a folder. On a phone it is the app's own document folder, which the system's file app shows.
#[tauri::command]
pub(crate) async fn choose_folder<R: Runtime>(app: AppHandle<R>) -> Result<Option<String>> {
    let chosen = tauri::async_runtime::spawn_blocking(move || ask_for_folder(&app)).await;
    Ok(chosen.map_err(|error| crate::desk::cut_short(&error))?.map(|path| path.display().to_string()))
}

/// Opens a paper made before with the system's own viewer.
#[tauri::command]
pub(crate) async fn open_paper<R: Runtime>(
    app: AppHandle<R>,
    holder: State<'_, Holder>,
    name: String,
) -> Result<()> {
    at_desk(holder, move |desk| {
        let path = paper(desk, &name)?;
        app.opener().open_path(path.to_string_lossy(), None::<&str>).map_err(|error| no_viewer(&path, &error))
    })
    .await
}

/// Asks where a copy of a paper goes and writes it there. `None`: the person thought better of it.
#[tauri::command]
pub(crate) async fn save_paper_copy<R: Runtime>(
    app: AppHandle<R>,
    holder: State<'_, Holder>,
    name: String,
) -> Result<Option<String>> {
    at_desk(holder, move |desk| {
        let path = paper(desk, &name)?;
        let Some(target) = ask_for_copy(&app, &name) else { return Ok(None) };
        std::fs::copy(&path, &target).map_err(|error| not_copied(&target, &error))?;
        Ok(Some(target.display().to_string()))
    })
    .await
}

#[cfg(desktop)]
fn ask_for_folder<R: Runtime>(app: &AppHandle<R>) -> Option<PathBuf> {
    use tauri_plugin_dialog::DialogExt;
    app.dialog().file().blocking_pick_folder()?.into_path().ok()
}

#[cfg(mobile)]
fn ask_for_folder<R: Runtime>(app: &AppHandle<R>) -> Option<PathBuf> {
    app.path().document_dir().ok()
}

#[cfg(desktop)]
fn ask_for_copy<R: Runtime>(app: &AppHandle<R>, name: &str) -> Option<PathBuf> {
    use tauri_plugin_dialog::DialogExt;
    let dialog = app.dialog().file().set_file_name(name).add_filter("PDF", &["pdf"]);
    dialog.blocking_save_file()?.into_path().ok()
}

#[cfg(mobile)]
fn ask_for_copy<R: Runtime>(app: &AppHandle<R>, name: &str) -> Option<PathBuf> {
    app.path().document_dir().ok().map(|folder| folder.join(name))
}

/// The place of a paper, if it is one of this home's. A name with a folder in it is none.
fn paper(desk: &Desk, name: &str) -> Result<PathBuf> {
    let path = desk.papers().join(name);
    let plain = Path::new(name).file_name().is_some_and(|file| file == name);
    if plain && path.is_file() {
        return Ok(path);
    }
    Err(ApiError::new(ErrorCode::BadInput, format!("There is no paper {name} here.")).field("name"))
}

fn no_viewer(path: &Path, error: &tauri_plugin_opener::Error) -> ApiError {
    ApiError::new(ErrorCode::Io, format!("The system has nothing to open it with: {error}")).file(path)
}

fn not_copied(path: &Path, error: &std::io::Error) -> ApiError {
    ApiError::new(ErrorCode::Io, format!("The copy could not be written: {error}")).file(path)
}
