//! The names of the commands: the build makes their permissions, the app forwards them.

/// The commands the window may call. The build grants a permission for each; nothing else has one.
pub const COMMANDS: &[&str] = &[
    "choose_folder",
    "found",
    "join",
    "open_paper",
    "open_shop",
    "save_paper_copy",
    "set_settings",
    "start",
    "words",
];
