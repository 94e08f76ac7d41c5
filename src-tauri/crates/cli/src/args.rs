//! The arguments, as fixed for others to build on.

mod calc;

pub(crate) use calc::CalcCommand;

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

/// The travel log of a piece of concrete, from mould to handover.
#[derive(Debug, Parser)]
#[command(name = "trowelogue", version, about, max_term_width = 100)]
pub(crate) struct Cli {
    #[command(flatten)]
    pub global: Global,
    #[command(subcommand)]
    pub command: Command,
}

/// Options of every command.
#[derive(Debug, Clone, Args)]
pub(crate) struct Global {
    /// This device's data. Without it: the platform's place for the data of programs.
    #[arg(long, global = true, value_name = "DIR", env = "TROWELOGUE_HOME")]
    pub home: Option<PathBuf>,
    /// Answer in JSON, the stable machine form; errors too.
    #[arg(long, global = true)]
    pub json: bool,
    /// Language of the answer. Without it: this device's.
    #[arg(long, global = true, value_enum)]
    pub lang: Option<Lang>,
    /// Units of the answer. Without it: this device's, else the shop's.
    #[arg(long, global = true, value_enum)]
    pub units: Option<Units>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Lang {
    /// English.
    En,
    /// Spanish.
    Es,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Units {
    /// Metric.
    Si,
    /// US customary.
    Us,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Paper {
    /// 210 × 297 mm.
    A4,
    /// 8.5 × 11 in.
    Letter,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Found a shop folder and this device.
    New {
        /// The folder; made if its parent is there.
        folder: PathBuf,
        /// Name of the shop.
        #[arg(long)]
        shop: String,
        /// Name of the person who logs on this device.
        #[arg(long)]
        person: String,
        /// Keep the key of this device in the system's key store. Never with --home.
        #[arg(long)]
        key_store: bool,
    },
    /// Add this device to the shop in a folder. An owner then accepts it.
    Join {
        /// The folder.
        folder: PathBuf,
        /// Name of the person who logs on this device.
        #[arg(long)]
        person: String,
        /// Keep the key of this device in the system's key store. Never with --home.
        #[arg(long)]
        key_store: bool,
    },
    /// Say where the key of this device stands, or move it.
    Key {
        /// Into the system's key store. Never with --home.
        #[arg(long, conflicts_with = "into_file")]
        into_store: bool,
        /// Out of the key store, into the file `key` of this device's data.
        #[arg(long)]
        into_file: bool,
    },
    /// Go on where the founding device was lost: this device becomes an owner by the recovery code, and the founding
    /// device is retired. Without --code and --code-file the code is read from standard input.
    Recover {
        /// The folder.
        folder: PathBuf,
        /// The recovery code. It stays in the history of the shell; a file or standard input does not.
        #[arg(long, conflicts_with = "code_file")]
        code: Option<String>,
        /// The file with the recovery code.
        #[arg(long, value_name = "FILE")]
        code_file: Option<PathBuf>,
        /// Name of the person who logs on this device.
        #[arg(long)]
        person: String,
    },
    /// Accept a device: its entries count.
    Accept {
        /// The folder.
        folder: PathBuf,
        /// The device: its id, the start of it, or its name.
        device: String,
        /// What it may do: crew (the default) or owner.
        #[arg(long)]
        role: Option<String>,
    },
    /// Retire a device: what it writes from now on never counts.
    Retire {
        /// The folder.
        folder: PathBuf,
        /// The device: its id, the start of it, or its name.
        device: String,
        /// Why: replaced, lost, person_left or other.
        #[arg(long)]
        reason: Option<String>,
    },
    /// Append entries: a JSON object, an array or JSON Lines, all or nothing. Prints their hashes.
    Add {
        /// The folder.
        folder: PathBuf,
        /// The file with the entries; `-` for standard input.
        file: PathBuf,
        /// A photo of it, JPEG or PNG; with one entry only. May be given several times.
        #[arg(long, value_name = "FILE")]
        photo: Vec<PathBuf>,
    },
    /// Tell this device the shop's passphrase, or set one. Read from the first line of standard input.
    Passphrase {
        /// The folder.
        folder: PathBuf,
        /// Set it, or change it: an owner does.
        #[arg(long)]
        set: bool,
    },
    /// Erase personal data on request, for good: the lines stay, what they said and their photos go.
    Erase {
        /// The folder.
        folder: PathBuf,
        /// A client, by id or name: every version of the client's own entry.
        #[arg(long)]
        client: Option<String>,
        /// An entry, by its hash, with its corrections. May be given several times.
        #[arg(long, value_name = "HASH")]
        entry: Vec<String>,
        /// Who asked for it, on what ground.
        #[arg(long)]
        why: String,
    },
    /// What is recorded.
    Show {
        /// The folder.
        folder: PathBuf,
        #[command(flatten)]
        about: About,
    },
    /// What the rules say of it. Ends with 1 where a stop stands.
    Check {
        /// The folder.
        folder: PathBuf,
        #[command(flatten)]
        about: About,
        /// As it stood at this moment, and what the next steps waited for: RFC 3339 with offset.
        #[arg(long, value_name = "TIME")]
        as_of: Option<String>,
    },
    /// What may be done now, what waits until when, and why.
    Next {
        /// The folder.
        folder: PathBuf,
        #[command(flatten)]
        about: About,
        /// At this moment instead of now: RFC 3339 with offset.
        #[arg(long, value_name = "TIME")]
        as_of: Option<String>,
    },
    /// Write the process record of a piece.
    Record {
        /// The folder.
        folder: PathBuf,
        /// The piece, by id or code.
        #[arg(long)]
        piece: String,
        #[command(flatten)]
        sheet: Sheet,
    },
    /// Write the care sheet of a piece or a job.
    Care {
        /// The folder.
        folder: PathBuf,
        #[command(flatten)]
        about: OneAbout,
        #[command(flatten)]
        sheet: Sheet,
    },
    /// Write labels with a QR code for a piece or a job, several to a sheet.
    Labels {
        /// The folder.
        folder: PathBuf,
        #[command(flatten)]
        about: OneAbout,
        #[command(flatten)]
        sheet: Sheet,
    },
    /// Write what is recorded for other programs: the steps as a table, everything as JSON, what is due as a calendar.
    Export {
        /// The folder.
        folder: PathBuf,
        /// The form.
        #[arg(value_enum)]
        form: ExportForm,
        #[command(flatten)]
        about: About,
        /// The file to write.
        #[arg(long, value_name = "PATH")]
        out: PathBuf,
    },
    /// Check every signature, chain, seal, header and photo of a folder, or a process record against its seal.
    /// Ends with 1 where something is broken.
    Verify {
        /// The folder, or the PDF of a process record.
        what: PathBuf,
        /// For a process record: the folder whose logs its entries must stand in.
        #[arg(long)]
        folder: Option<PathBuf>,
    },
    /// Put back into the folder what it has lost of other devices' logs, from this device's data.
    Restore {
        /// The folder.
        folder: PathBuf,
    },
    /// Hash of the recorded state: the same on every device that holds the same entries.
    Digest {
        /// The folder.
        folder: PathBuf,
    },
    /// The rules with basis and why.
    Rules {
        /// The rule; all of them without it.
        code: Option<String>,
    },
    /// Sums of the trade.
    Calc {
        #[command(subcommand)]
        sum: CalcCommand,
    },
    /// Take files of other instruments into the record.
    Import {
        #[command(subcommand)]
        what: ImportCommand,
    },
}

#[derive(Debug, Clone, Default, Args)]
pub(crate) struct About {
    /// One piece, by id or code.
    #[arg(long, conflicts_with = "job")]
    pub piece: Option<String>,
    /// The pieces of one job, by id or code.
    #[arg(long)]
    pub job: Option<String>,
}

#[derive(Debug, Clone, Args)]
#[group(required = true, multiple = false)]
pub(crate) struct OneAbout {
    /// The piece, by id or code.
    #[arg(long)]
    pub piece: Option<String>,
    /// The job, by id or code.
    #[arg(long)]
    pub job: Option<String>,
}

#[derive(Debug, Clone, Args)]
pub(crate) struct Sheet {
    /// The file to write.
    #[arg(long, value_name = "F.pdf")]
    pub out: PathBuf,
    /// Size of the paper.
    #[arg(long, value_enum, default_value = "a4")]
    pub paper: Paper,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ExportForm {
    /// A table for spreadsheets, a row for each step of each piece.
    Csv,
    /// All that `show --json` gives.
    Json,
    /// Reminders of first water, full use, renewal and the end of the warranty.
    Ics,
}

#[derive(Debug, Subcommand)]
pub(crate) enum ImportCommand {
    /// A temperature logger's CSV file, into the record of a pour. What the file leaves open is asked for.
    Temperatures {
        /// The folder.
        folder: PathBuf,
        /// The file.
        file: PathBuf,
        /// The pour, by id or code.
        #[arg(long)]
        pour: String,
        /// Of what: concrete (the default), air or surface.
        #[arg(long)]
        of: Option<String>,
        /// Name of the logger.
        #[arg(long)]
        logger: Option<String>,
        /// The sign between fields.
        #[arg(long)]
        delimiter: Option<char>,
        /// The decimal sign.
        #[arg(long)]
        decimal: Option<char>,
        /// Unit of the temperatures: c or f.
        #[arg(long)]
        unit: Option<String>,
        /// Zone of times without an offset: a name such as America/Denver, or -06:00.
        #[arg(long, allow_hyphen_values = true)]
        zone: Option<String>,
        /// Order of the dates: d/m/y, m/d/y or y/m/d.
        #[arg(long)]
        date_order: Option<String>,
        /// Title or number of the column of the time.
        #[arg(long)]
        time_column: Option<String>,
        /// Title or number of the column of the temperature.
        #[arg(long)]
        temperature_column: Option<String>,
    },
}
