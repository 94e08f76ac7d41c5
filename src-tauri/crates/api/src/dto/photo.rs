//! Photos: taken in with a form, shown with an entry.

dto! {
    /// A photo of an entry.
    #[derive(Eq)]
    pub struct PhotoRef {
        /// The SHA-256 of its bytes.
        pub id: String,
        /// What it shows.
        pub caption: Option<String>,
    }

    /// A photo that was taken in.
    #[derive(Eq)]
    pub struct PhotoTaken {
        /// What it goes by among the values of a form.
        pub id: String,
    }

    /// How a photo stands.
    #[derive(Copy, Eq)]
    #[serde(rename_all = "snake_case")]
    pub enum PhotoState {
        /// Here.
        Here,
        /// On disk here, as the camera wrote it; not ready to be shown.
        Waiting,
        /// Not here: on its way from another device, erased or lost.
        Missing,
        /// Another file stands in its place.
        Wrong,
        /// It cannot be read.
        Refused,
    }

    /// A photo, for a screen.
    #[derive(Eq)]
    pub struct PhotoShown {
        /// What it goes by.
        pub id: String,
        /// How it stands.
        pub state: PhotoState,
        /// The words for it, where it is not simply here.
        pub say: String,
        /// The picture as JPEG, in base64.
        pub jpeg: Option<String>,
    }
}
