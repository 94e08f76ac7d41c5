import type {
  ApiError, Changed, Day, DayAsk, DayPiece, DayState, DraftNote, FindingsBeside, FolderLook, FolderPage, Form, Founded, Helped, Joined,
  JsonValue, LabelRead, Lang, Logged, ObjectSheet, PaperAsk, PaperMade, PhotoShown, PhotoTaken, PieceClock, PieceSheet,
  Recovered, RouteEdit, RouteStage, Series, Settings, Shelf, ShelfHead, StageForm, Start, StepDraft, Tried, Verified, Words,
} from "./types";

/** What the screens may ask for. Each call either gives its answer or throws an `ApiError`. */
export interface Backend {
  start(): Promise<Start>;
  words(lang: Lang | null): Promise<Words>;
  setSettings(settings: Settings): Promise<Settings>;

  chooseFolder(): Promise<string | null>;
  look(folder: string): Promise<FolderLook>;
  openShop(folder: string): Promise<Start>;
  found(folder: string, shop: string, person: string): Promise<Founded>;
  join(folder: string, person: string): Promise<Joined>;
  recover(folder: string, code: string, person: string): Promise<Recovered>;

  day(ask: DayAsk): Promise<Day>;
  /** More pieces of a group of the day that was asked for, from a place in its order. */
  dayMore(ask: DayAsk, group: DayState, from: number, count: number): Promise<DayPiece[]>;
  /** Findings about people, days and the record. */
  beside(from: number, count: number): Promise<FindingsBeside>;
  /** The clocks that run, the one that ends first first. */
  clocks(): Promise<PieceClock[]>;
  /** Reads the label on a photo, given as the camera wrote it, in base64. */
  readLabel(data: string): Promise<LabelRead>;
  piece(id: string): Promise<PieceSheet>;

  form(kind: string, pieces: string[]): Promise<Form>;
  correctionForm(hash: string): Promise<Form>;
  tryStep(step: StepDraft): Promise<Tried>;
  /** Does a sum that helps to fill in a form. */
  helpStep(step: StepDraft, key: string, values: Record<string, JsonValue>): Promise<Helped>;
  log(step: StepDraft): Promise<Logged>;
  correct(hash: string, step: StepDraft, why: string): Promise<Logged>;
  strike(hash: string, why: string): Promise<Logged>;
  except(piece: string, rule: string, entry: string | null, why: string): Promise<Logged>;
  keepDraft(step: StepDraft): Promise<void>;
  drafts(): Promise<DraftNote[]>;
  dropDraft(kind: string, pieces: string[]): Promise<void>;
  /** A photo as the camera wrote it, in base64; its id goes among the form's photos. On disk when this answers. */
  addPhoto(data: string): Promise<PhotoTaken>;
  dropPhoto(id: string): Promise<void>;
  /** A photo of an entry or of a form, no longer than `side` pixels. */
  photo(id: string, side: number): Promise<PhotoShown>;

  shelves(): Promise<ShelfHead[]>;
  shelf(kind: string): Promise<Shelf>;
  object(kind: string, id: string): Promise<ObjectSheet>;
  objectForm(kind: string, id: string | null, copy: boolean): Promise<Form>;
  series(code: string, count: number): Promise<Series>;
  logSeries(step: StepDraft, count: number): Promise<Logged>;
  routeEdit(id: string, copy: boolean): Promise<RouteEdit>;
  stageForm(stage: RouteStage): Promise<StageForm>;
  tryRoute(edit: RouteEdit): Promise<RouteEdit>;
  logRoute(edit: RouteEdit): Promise<Logged>;
  setPassphrase(passphrase: string): Promise<Logged>;
  tellPassphrase(passphrase: string): Promise<Start>;

  makePaper(ask: PaperAsk): Promise<PaperMade>;
  openPaper(name: string): Promise<void>;
  savePaperCopy(name: string): Promise<string | null>;

  folder(): Promise<FolderPage>;
  accept(device: string): Promise<Logged>;
  retire(device: string): Promise<Logged>;
  giveRole(device: string, role: string): Promise<Logged>;
  settle(entry: string, why: string): Promise<Logged>;
  verify(): Promise<Verified>;
  sweep(): Promise<void>;

  /** Shows a notice in the system's own way; throws where the system has none. */
  notice(text: string): Promise<void>;
  /** Calls back after the shop changed, whoever changed it. */
  watch(changed: (what: Changed) => void): Promise<void>;
}

/** Sends one command with named arguments; the two implementations differ in nothing else. */
export type Send = <T>(command: string, args?: Record<string, unknown>) => Promise<T>;

/** The commands of the shell, by name and argument, over any way of sending them. */
export const overCommands = (send: Send, watch: Backend["watch"]): Backend => ({
  start: () => send("start"),
  words: (lang) => send("words", { lang }),
  setSettings: (settings) => send("set_settings", { settings }),
  chooseFolder: () => send("choose_folder"),
  look: (folder) => send("look", { folder }),
  openShop: (folder) => send("open_shop", { folder }),
  found: (folder, shop, person) => send("found", { folder, shop, person }),
  join: (folder, person) => send("join", { folder, person }),
  recover: (folder, code, person) => send("recover", { folder, code, person }),
  day: (ask) => send("day", { ask }),
  dayMore: (ask, group, from, count) => send("day_more", { ask, group, from, count }),
  beside: (from, count) => send("beside", { from, count }),
  clocks: () => send("clocks"),
  readLabel: (data) => send("read_label", { data }),
  piece: (id) => send("piece", { id }),
  form: (kind, pieces) => send("form", { kind, pieces }),
  correctionForm: (hash) => send("correction_form", { hash }),
  tryStep: (step) => send("try_step", { step }),
  helpStep: (step, key, values) => send("help_step", { step, key, values }),
  log: (step) => send("log", { step }),
  correct: (hash, step, why) => send("correct", { hash, step, why }),
  strike: (hash, why) => send("strike", { hash, why }),
  except: (piece, rule, entry, why) => send("except", { piece, rule, entry, why }),
  keepDraft: (step) => send("keep_draft", { step }),
  drafts: () => send("drafts"),
  dropDraft: (kind, pieces) => send("drop_draft", { kind, pieces }),
  addPhoto: (data) => send("add_photo", { data }),
  dropPhoto: (id) => send("drop_photo", { id }),
  photo: (id, side) => send("photo", { id, side }),
  shelves: () => send("shelves"),
  shelf: (kind) => send("shelf", { kind }),
  object: (kind, id) => send("object", { kind, id }),
  objectForm: (kind, id, copy) => send("object_form", { kind, id, copy }),
  series: (code, count) => send("series", { code, count }),
  logSeries: (step, count) => send("log_series", { step, count }),
  routeEdit: (id, copy) => send("route_edit", { id, copy }),
  stageForm: (stage) => send("stage_form", { stage }),
  tryRoute: (edit) => send("try_route", { edit }),
  logRoute: (edit) => send("log_route", { edit }),
  setPassphrase: (passphrase) => send("set_passphrase", { passphrase }),
  tellPassphrase: (passphrase) => send("tell_passphrase", { passphrase }),
  makePaper: (ask) => send("make_paper", { ask }),
  openPaper: (name) => send("open_paper", { name }),
  savePaperCopy: (name) => send("save_paper_copy", { name }),
  folder: () => send("folder"),
  accept: (device) => send("accept", { device }),
  retire: (device) => send("retire", { device }),
  giveRole: (device, role) => send("give_role", { device, role }),
  settle: (entry, why) => send("settle", { entry, why }),
  verify: () => send("verify"),
  sweep: () => send("sweep"),
  notice: (text) => send("notice", { text }),
  watch,
});

/** Whatever was thrown, as the error the screens understand. */
export const asApiError = (thrown: unknown): ApiError => {
  if (typeof thrown === "object" && thrown !== null && "code" in thrown && "message" in thrown) return thrown as ApiError;
  return { code: "usage", message: String(thrown), file: null, line: null, field: null, kept: null, remedy: null };
};
