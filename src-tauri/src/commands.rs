//! The commands of the window. Each hands its arguments to the desk and the answer back; no rule stands here.

use std::collections::BTreeMap;
use std::path::Path;

use serde_json::Value;
use tauri::State;
use tauri::ipc::Channel;
use trowelogue_api::Result;
use trowelogue_api::dto::{
    Changed, Day, DayAsk, DayPiece, DayState, DraftNote, FindingsBeside, FolderLook, FolderPage, Form,
    Founded, Helped, Joined, LabelRead, Lang, Logged, ObjectSheet, PaperAsk, PaperMade, PhotoShown,
    PhotoTaken, PieceClock, PieceSheet, Recovered, RouteEdit, RouteStage, RuleText, Series, Settings, Shelf,
    ShelfHead, StageForm, Start, StepDraft, Tried, Verified, Words,
};

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
pub(crate) async fn look(holder: Held<'_>, folder: String) -> Result<FolderLook> {
    at_desk(holder, move |desk| desk.look(Path::new(&folder))).await
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

#[tauri::command]
pub(crate) async fn recover(
    holder: Held<'_>,
    folder: String,
    code: String,
    person: String,
) -> Result<Recovered> {
    at_desk(holder, move |desk| desk.recover(Path::new(&folder), &code, &person)).await
}

#[tauri::command]
pub(crate) async fn day(holder: Held<'_>, ask: DayAsk) -> Result<Day> {
    at_desk(holder, move |desk| desk.day_of(&ask)).await
}

#[tauri::command]
pub(crate) async fn clocks(holder: Held<'_>) -> Result<Vec<PieceClock>> {
    at_desk(holder, |desk| desk.clocks()).await
}

#[tauri::command]
pub(crate) async fn beside(holder: Held<'_>, from: u32, count: u32) -> Result<FindingsBeside> {
    at_desk(holder, move |desk| desk.beside(from, count)).await
}

/// `data` is a photo of a label as a camera wrote it, in base64.
#[tauri::command]
pub(crate) async fn read_label(holder: Held<'_>, data: String) -> Result<LabelRead> {
    at_desk(holder, move |desk| desk.read_label(&data)).await
}

#[tauri::command]
pub(crate) async fn day_more(
    holder: Held<'_>,
    ask: DayAsk,
    group: DayState,
    from: u32,
    count: u32,
) -> Result<Vec<DayPiece>> {
    at_desk(holder, move |desk| desk.day_more(&ask, group, from, count)).await
}

#[tauri::command]
pub(crate) async fn piece(holder: Held<'_>, id: String) -> Result<PieceSheet> {
    at_desk(holder, move |desk| desk.piece(&id)).await
}

#[tauri::command]
pub(crate) async fn form(holder: Held<'_>, kind: String, pieces: Vec<String>) -> Result<Form> {
    at_desk(holder, move |desk| desk.form(&kind, &pieces)).await
}

#[tauri::command]
pub(crate) async fn correction_form(holder: Held<'_>, hash: String) -> Result<Form> {
    at_desk(holder, move |desk| desk.correction_form(&hash)).await
}

#[tauri::command]
pub(crate) async fn try_step(holder: Held<'_>, step: StepDraft) -> Result<Tried> {
    at_desk(holder, move |desk| desk.try_step(&step)).await
}

#[tauri::command]
pub(crate) async fn help_step(
    holder: Held<'_>,
    step: StepDraft,
    key: String,
    values: BTreeMap<String, Value>,
) -> Result<Helped> {
    at_desk(holder, move |desk| desk.help_step(&step, &key, &values)).await
}

#[tauri::command]
pub(crate) async fn log(holder: Held<'_>, step: StepDraft) -> Result<Logged> {
    at_desk(holder, move |desk| desk.log(&step)).await
}

#[tauri::command]
pub(crate) async fn correct(holder: Held<'_>, hash: String, step: StepDraft, why: String) -> Result<Logged> {
    at_desk(holder, move |desk| desk.correct(&hash, &step, &why)).await
}

#[tauri::command]
pub(crate) async fn strike(holder: Held<'_>, hash: String, why: String) -> Result<Logged> {
    at_desk(holder, move |desk| desk.strike(&hash, &why)).await
}

#[tauri::command]
pub(crate) async fn except(
    holder: Held<'_>,
    piece: String,
    rule: String,
    entry: Option<String>,
    why: String,
) -> Result<Logged> {
    at_desk(holder, move |desk| desk.except(&piece, &rule, entry.as_deref(), &why)).await
}

#[tauri::command]
pub(crate) async fn keep_draft(holder: Held<'_>, step: StepDraft) -> Result<()> {
    at_desk(holder, move |desk| desk.keep_draft(&step)).await
}

#[tauri::command]
pub(crate) async fn drafts(holder: Held<'_>) -> Result<Vec<DraftNote>> {
    at_desk(holder, |desk| desk.drafts()).await
}

#[tauri::command]
pub(crate) async fn drop_draft(holder: Held<'_>, kind: String, pieces: Vec<String>) -> Result<()> {
    at_desk(holder, move |desk| desk.drop_draft(&kind, &pieces)).await
}

/// `data` is the photo as a camera wrote it, in base64.
#[tauri::command]
pub(crate) async fn add_photo(holder: Held<'_>, data: String) -> Result<PhotoTaken> {
    at_desk(holder, move |desk| desk.add_photo(&data)).await
}

#[tauri::command]
pub(crate) async fn drop_photo(holder: Held<'_>, id: String) -> Result<()> {
    at_desk(holder, move |desk| desk.drop_photo(&id)).await
}

#[tauri::command]
pub(crate) async fn photo(holder: Held<'_>, id: String, side: u32) -> Result<PhotoShown> {
    at_desk(holder, move |desk| desk.photo(&id, side)).await
}

#[tauri::command]
pub(crate) async fn shelves(holder: Held<'_>) -> Result<Vec<ShelfHead>> {
    at_desk(holder, |desk| desk.shelves()).await
}

#[tauri::command]
pub(crate) async fn shelf(holder: Held<'_>, kind: String) -> Result<Shelf> {
    at_desk(holder, move |desk| desk.shelf(&kind)).await
}

#[tauri::command]
pub(crate) async fn object(holder: Held<'_>, kind: String, id: String) -> Result<ObjectSheet> {
    at_desk(holder, move |desk| desk.object(&kind, &id)).await
}

#[tauri::command]
pub(crate) async fn object_form(
    holder: Held<'_>,
    kind: String,
    id: Option<String>,
    copy: bool,
) -> Result<Form> {
    at_desk(holder, move |desk| desk.object_form(&kind, id.as_deref(), copy)).await
}

#[tauri::command]
pub(crate) async fn series(holder: Held<'_>, code: String, count: u32) -> Result<Series> {
    at_desk(holder, move |desk| desk.series(&code, count)).await
}

#[tauri::command]
pub(crate) async fn log_series(holder: Held<'_>, step: StepDraft, count: u32) -> Result<Logged> {
    at_desk(holder, move |desk| desk.log_series(&step, count)).await
}

#[tauri::command]
pub(crate) async fn route_edit(holder: Held<'_>, id: String, copy: bool) -> Result<RouteEdit> {
    at_desk(holder, move |desk| desk.route_edit(&id, copy)).await
}

#[tauri::command]
pub(crate) async fn stage_form(holder: Held<'_>, stage: RouteStage) -> Result<StageForm> {
    at_desk(holder, move |desk| desk.stage_form(&stage)).await
}

#[tauri::command]
pub(crate) async fn try_route(holder: Held<'_>, edit: RouteEdit) -> Result<RouteEdit> {
    at_desk(holder, move |desk| desk.try_route(&edit)).await
}

#[tauri::command]
pub(crate) async fn log_route(holder: Held<'_>, edit: RouteEdit) -> Result<Logged> {
    at_desk(holder, move |desk| desk.log_route(&edit)).await
}

#[tauri::command]
pub(crate) async fn set_passphrase(holder: Held<'_>, passphrase: String) -> Result<Logged> {
    at_desk(holder, move |desk| desk.set_passphrase(&passphrase)).await
}

#[tauri::command]
pub(crate) async fn tell_passphrase(holder: Held<'_>, passphrase: String) -> Result<Start> {
    at_desk(holder, move |desk| desk.tell_passphrase(&passphrase)).await
}

#[tauri::command]
pub(crate) async fn make_paper(holder: Held<'_>, ask: PaperAsk) -> Result<PaperMade> {
    at_desk(holder, move |desk| desk.make_paper(&ask)).await
}

#[tauri::command]
pub(crate) async fn folder(holder: Held<'_>) -> Result<FolderPage> {
    at_desk(holder, |desk| desk.folder()).await
}

#[tauri::command]
pub(crate) async fn accept(holder: Held<'_>, device: String) -> Result<Logged> {
    at_desk(holder, move |desk| desk.accept(&device)).await
}

#[tauri::command]
pub(crate) async fn retire(holder: Held<'_>, device: String) -> Result<Logged> {
    at_desk(holder, move |desk| desk.retire(&device)).await
}

#[tauri::command]
pub(crate) async fn give_role(holder: Held<'_>, device: String, role: String) -> Result<Logged> {
    at_desk(holder, move |desk| desk.give_role(&device, &role)).await
}

#[tauri::command]
pub(crate) async fn settle(holder: Held<'_>, entry: String, why: String) -> Result<Logged> {
    at_desk(holder, move |desk| desk.settle(&entry, &why)).await
}

#[tauri::command]
pub(crate) async fn verify(holder: Held<'_>) -> Result<Verified> {
    at_desk(holder, |desk| desk.verify()).await
}

#[tauri::command]
pub(crate) async fn rule(holder: Held<'_>, code: String) -> Result<RuleText> {
    at_desk(holder, move |desk| desk.rule(&code)).await
}

#[tauri::command]
pub(crate) async fn sweep(holder: Held<'_>) -> Result<()> {
    at_desk(holder, |desk| desk.sweep()).await
}

/// The page passes a channel; a page that was loaded again replaces it.
#[tauri::command]
pub(crate) async fn watch(holder: Held<'_>, channel: Channel<Changed>) -> Result<()> {
    at_desk(holder, move |desk| {
        // A page that is gone has nobody to tell.
        desk.watch(move |changed| drop(channel.send(changed)));
        Ok(())
    })
    .await
}
