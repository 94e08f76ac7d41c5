//! The window of Trowelogue: what the page may call, and nothing else. The work is done in `trowelogue_api`.

use std::path::PathBuf;

use tauri::{App, Builder, Context, Manager, Runtime};
use trowelogue_api::{Clock, Desk};

mod args;
mod commands;
mod desk;
mod files;
mod notice;

pub use args::Args;
pub use desk::Holder;

mod command_names;
pub use command_names::COMMANDS;

/// The configuration, permissions and front end, as they are compiled in.
pub fn context<R: Runtime>() -> Context<R> {
    tauri::generate_context!()
}

/// Puts the commands and the plugins they use on `builder`. Tests do the same on a runtime without a window.
pub fn equip<R: Runtime>(builder: Builder<R>) -> Builder<R> {
    builder.plugin(tauri_plugin_dialog::init()).plugin(tauri_plugin_opener::init()).invoke_handler(
        tauri::generate_handler![
            commands::accept,
            commands::add_photo,
            commands::beside,
            files::choose_folder,
            commands::clocks,
            commands::correct,
            commands::correction_form,
            commands::day,
            commands::day_more,
            commands::drafts,
            commands::drop_draft,
            commands::drop_photo,
            commands::except,
            commands::folder,
            commands::form,
            commands::found,
            commands::give_role,
            commands::help_step,
            commands::join,
            commands::keep_draft,
            commands::log,
            commands::log_route,
            commands::log_series,
            commands::look,
            commands::make_paper,
            commands::object,
            commands::object_form,
            notice::notice,
            files::open_paper,
            commands::open_shop,
            commands::photo,
            commands::piece,
            commands::read_label,
            commands::recover,
            commands::retire,
            commands::route_edit,
            commands::rule,
            files::save_paper_copy,
            commands::series,
            commands::set_passphrase,
            commands::set_settings,
            commands::settle,
            commands::shelf,
            commands::shelves,
            commands::stage_form,
            commands::start,
            commands::strike,
            commands::sweep,
            commands::tell_passphrase,
            commands::try_route,
            commands::try_step,
            commands::verify,
            commands::watch,
            commands::words,
        ],
    )
}

/// Opens the app and returns when it is closed.
#[cfg_attr(mobile, tauri::mobile_entry_point)]
#[expect(clippy::print_stderr, reason = "there is no window to say it in")]
pub fn run() {
    let args = Args::read(std::env::args_os().skip(1), std::env::var_os("TROWELOGUE_HOME"));
    let ran = equip(alone(Builder::default(), &args)).setup(move |app| {
        open(app, args);
        Ok(())
    });
    let ran = ran.run(context());
    if let Err(error) = ran {
        eprintln!("The window could not be opened: {error}");
        std::process::exit(3);
    }
}

/// One app a home: a second start brings the first to the front. A home of its own is a device of its own.
#[cfg(desktop)]
fn alone<R: Runtime>(builder: Builder<R>, args: &Args) -> Builder<R> {
    if args.home.is_some() {
        return builder;
    }
    builder.plugin(tauri_plugin_single_instance::init(|app, _, _| {
        if let Some(window) = app.get_webview_window("main") {
            // A window manager that refuses leaves the window where it is.
            drop(window.unminimize());
            drop(window.set_focus());
        }
    }))
}

#[cfg(mobile)]
fn alone<R: Runtime>(builder: Builder<R>, _: &Args) -> Builder<R> {
    builder
}

/// The desk of this device: on a phone the system says where an app may keep its data.
fn open<R: Runtime>(app: &App<R>, args: Args) {
    let home = args.home.map_or_else(|| own_place(app), Ok);
    let desk = home.map(|home| Desk::new(home, Clock::System));
    if let (Ok(desk), None) = (&desk, &args.folder) {
        look_ahead(desk.clone());
    }
    app.manage(Holder::new(desk, args.folder));
}

/// Works out what the page asks for first while the window comes up. Without a thread the page waits that much longer.
fn look_ahead(desk: Desk) {
    drop(std::thread::Builder::new().name("first-look".into()).spawn(move || desk.look_ahead()));
}

#[cfg(desktop)]
fn own_place<R: Runtime>(_: &App<R>) -> trowelogue_api::Result<PathBuf> {
    trowelogue_api::default_home()
}

#[cfg(mobile)]
fn own_place<R: Runtime>(app: &App<R>) -> trowelogue_api::Result<PathBuf> {
    app.path().app_data_dir().map_err(|error| desk::cut_short(&error))
}
