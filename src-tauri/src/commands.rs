//! The commands of the window. Each hands its arguments to the desk and the answer back; no rule stands here.

use std::path::Path;

use tauri::State;
use trowelogue_api::Result;
use trowelogue_api::dto::{Founded, Joined, Lang, Settings, Start, Words};

use crate::desk::{Holder, at_desk};

type Held<'a> = State<'a, Holder>;

#[tauri::command]
pub(crate) async fn start(holder: Held<'_>) -> Result<Start> {
    let folder = holder.take_folder();
    at_desk(holder, move |desk| folder.map_or_else(|| Ok(desk.start()), |folder| desk.open_shop(&folder)))
        .await
}

#[tauri::command]
pub(crate) async fn words(holder: Held<'_>, lang: Option<Lang>) -> Result<Words> {
    at_desk(holder, move |desk| Ok(desk.words(lang))).await
}

#[tauri::command]
pub(crate) async fn set_settings(holder: Held<'_>, settings: Settings) -> Result<Settings> {
    at_desk(holder, move |desk| desk.set_settings(&settings)).await
}

#[tauri::command]
pub(crate) async fn open_shop(holder: Held<'_>, folder: String) -> Result<Start> {
    at_desk(holder, move |desk| desk.open_shop(Path::new(&folder))).await
}

#[tauri::command]
pub(crate) async fn found(holder: Held<'_>, folder: String, shop: String, person: String) -> Result<Founded> {
    at_desk(holder, move |desk| desk.found(Path::new(&folder), &shop, &person)).await
}

#[tauri::command]
pub(crate) async fn join(holder: Held<'_>, folder: String, person: String) -> Result<Joined> {
    at_desk(holder, move |desk| desk.join(Path::new(&folder), &person)).await
}
