//! One instance of the engine: its settings, its process, its local interface.

use std::fs::{self, File};
use std::io::{Read as _, Write as _};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use serde_json::Value;

use super::until;

const KEY: &str = "loopback-only";

/// A running instance; stopped when dropped.
pub(crate) struct Instance {
    home: PathBuf,
    port: u16,
    other: String,
    process: Option<Child>,
}

/// Makes two instances that share `folders`, one each, and waits until they are connected.
pub(crate) fn connect(place: &Path, folders: &[PathBuf; 2]) -> [Instance; 2] {
    let homes = ["engine-a", "engine-b"].map(|name| place.join(name));
    let ids = [0, 1].map(|at| generate(&homes[at]));
    let ports = free_ports();
    let mut engines = [0, 1].map(|at| {
        fs::create_dir_all(folders[at].join(".stfolder")).unwrap();
        fs::write(homes[at].join("config.xml"), settings(&ids, &ports, at, &folders[at])).unwrap();
        Instance { home: homes[at].clone(), port: ports[at + 2], other: ids[1 - at].clone(), process: None }
    });
    engines.iter_mut().for_each(Instance::restart);
    until("the two are connected", || engines.iter().all(Instance::is_connected));
    engines
}

/// Makes an instance's key; gives its id.
fn generate(home: &Path) -> String {
    fs::create_dir_all(home).unwrap();
    let run = |arguments: &[&str]| {
        let home = format!("--home={}", home.display());
        let output = command(Path::new(&home)).args(arguments).arg(&home).output().unwrap();
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap().trim().to_owned()
    };
    run(&["generate", "--skip-port-probing", "--no-default-folder"]);
    run(&["--device-id"])
}

fn command(home: &Path) -> Command {
    let mut command = Command::new("syncthing");
    command
        .env("HOME", home)
        .env("STNOUPGRADE", "1")
        .env("STNORESTART", "1")
        .env("STNODEFAULTFOLDER", "1")
        .env("GOMAXPROCS", "1")
        .stdin(Stdio::null());
    command
}

/// Four ports that are free now.
fn free_ports() -> [u16; 4] {
    let taken = [0; 4].map(|_| TcpListener::bind(("127.0.0.1", 0)).unwrap());
    taken.each_ref().map(|listener| listener.local_addr().unwrap().port())
}

fn settings(ids: &[String; 2], ports: &[u16; 4], at: usize, folder: &Path) -> String {
    let device = |n: usize| {
        format!(
            "<device id=\"{}\" name=\"{n}\" compression=\"metadata\"><address>tcp://127.0.0.1:{}</address>\
             <paused>false</paused><allowedNetwork>127.0.0.0/8</allowedNetwork></device>",
            ids[n], ports[n]
        )
    };
    let off = ["globalAnnounceEnabled", "localAnnounceEnabled", "relaysEnabled", "natEnabled"]
        .into_iter()
        .chain(["crashReportingEnabled", "startBrowser", "announceLANAddresses", "upgradeToPreReleases"])
        .map(|name| format!("<{name}>false</{name}>"));
    format!(
        "<configuration version=\"35\"><folder id=\"shop\" label=\"shop\" path=\"{path}\" type=\"sendreceive\" \
         rescanIntervalS=\"3600\" fsWatcherEnabled=\"true\" fsWatcherDelayS=\"1\" ignorePerms=\"true\">\
         <filesystemType>basic</filesystemType><device id=\"{a}\"/><device id=\"{b}\"/>\
         <minDiskFree unit=\"MB\">1</minDiskFree><maxConflicts>-1</maxConflicts>\
         <markerName>.stfolder</markerName><pullerPauseS>1</pullerPauseS></folder>{one}{two}\
         <gui enabled=\"true\" tls=\"false\"><address>127.0.0.1:{gui}</address><apikey>{KEY}</apikey></gui>\
         <options><listenAddress>tcp://127.0.0.1:{listen}</listenAddress>{off}\
         <stunKeepaliveStartS>0</stunKeepaliveStartS><urAccepted>-1</urAccepted><urSeen>9999</urSeen>\
         <autoUpgradeIntervalH>0</autoUpgradeIntervalH><reconnectionIntervalS>1</reconnectionIntervalS>\
         <keepTemporariesH>1</keepTemporariesH></options></configuration>",
        path = folder.display(),
        a = ids[0],
        b = ids[1],
        one = device(0),
        two = device(1),
        gui = ports[at + 2],
        listen = ports[at],
        off = off.collect::<String>(),
    )
}

impl Instance {
    /// Starts the process and waits until it answers.
    pub(crate) fn restart(&mut self) {
        let log = File::options().create(true).append(true).open(self.home.join("log")).unwrap();
        let home = format!("--home={}", self.home.display());
        let flags = ["--no-browser", "--no-restart", "--no-upgrade", "--no-default-folder", "--logflags=0"];
        let mut start = command(&self.home);
        start.arg("serve").arg(home).args(flags).stdout(log.try_clone().unwrap()).stderr(log);
        self.process = Some(start.spawn().unwrap());
        until("the interface answers", || self.ask("GET", "/rest/system/ping").is_some());
    }

    /// Stops the process: this side is offline.
    pub(crate) fn stop(&mut self) {
        if let Some(mut process) = self.process.take() {
            let _ = process.kill();
            let _ = process.wait();
        }
    }

    /// Looks through the folder now instead of after the next event.
    pub(crate) fn scan(&self) {
        let _ = self.ask("POST", "/rest/db/scan?folder=shop");
    }

    /// Stops talking to the other one.
    pub(crate) fn pause(&self) {
        self.ask("POST", &format!("/rest/system/pause?device={}", self.other)).unwrap();
    }

    /// Talks to the other one again.
    pub(crate) fn resume(&self) {
        self.ask("POST", &format!("/rest/system/resume?device={}", self.other)).unwrap();
    }

    fn is_connected(&self) -> bool {
        let connections = self.ask("GET", "/rest/system/connections").unwrap_or_default();
        connections["connections"][&self.other]["connected"] == Value::Bool(true)
    }

    /// Everything that reaches beyond the loopback is off, as the engine itself sees its settings.
    pub(crate) fn talks_to_nobody_else(&self) {
        let options = self.ask("GET", "/rest/config/options").unwrap();
        for name in ["globalAnnounceEnabled", "localAnnounceEnabled", "relaysEnabled", "natEnabled"] {
            assert_eq!(options[name], Value::Bool(false), "{name}");
        }
        assert_eq!(options["crashReportingEnabled"], Value::Bool(false));
        assert_eq!(
            (options["urAccepted"].as_i64(), options["autoUpgradeIntervalH"].as_i64()),
            (Some(-1), Some(0))
        );
        assert!(options["listenAddresses"][0].as_str().unwrap().starts_with("tcp://127.0.0.1:"));
    }

    /// One request to the local interface; `None` where it does not answer, or not well.
    fn ask(&self, method: &str, path: &str) -> Option<Value> {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).ok()?;
        stream.set_read_timeout(Some(Duration::from_secs(5))).ok()?;
        let head = format!(
            "{method} {path} HTTP/1.0\r\nHost: 127.0.0.1\r\nX-API-Key: {KEY}\r\nContent-Length: 0\r\n\r\n"
        );
        stream.write_all(head.as_bytes()).ok()?;
        let mut answer = String::new();
        stream.read_to_string(&mut answer).ok()?;
        let (head, body) = answer.split_once("\r\n\r\n")?;
        let good = head.lines().next()?.contains(" 200 ");
        good.then(|| serde_json::from_str(body).unwrap_or(Value::Null))
    }
}

impl Drop for Instance {
    fn drop(&mut self) {
        self.stop();
    }
}
