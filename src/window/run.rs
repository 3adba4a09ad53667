//! Opening the window, or saying in one line why it cannot be opened.

use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::time::Instant;

use iced::{Task, Theme, window};

use super::files::Purpose;
use super::rescue::{self, Rescue};
use super::theme::{self, FONT_FILES, REGULAR};
use super::{App, Message};
use crate::joint::Joint;
use crate::stock::Stock;

/// A joint file that is larger is read beside the window, bytes.
const LARGE_BYTES: u64 = 300_000;

/// The least size of the window in pixels.
pub(super) const LEAST: iced::Size = iced::Size::new(1024.0, 640.0);

/// Opens the window, on a joint file where one is named, and returns when it is closed.
///
/// # Errors
/// When no window can be opened; the text says why in one line.
pub fn run(file: Option<PathBuf>) -> Result<(), String> {
    reachable_display()?;
    let began = Arc::new(AtomicBool::new(false));
    let rescue = Rescue::default();
    let said = listen(&began, &rescue);
    let since = Instant::now();
    let boot = boot(file.clone(), began.clone(), rescue.clone());
    let ended = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| program(boot).run()));
    let _ = std::panic::take_hook();
    let why = || said.lock().map(|it| it.clone()).unwrap_or_default();
    match ended {
        Ok(result) => result.map_err(|it| format!("no window can be opened: {it}")),
        Err(panic) if began.load(Ordering::Relaxed) => {
            let is_kept = rescue.save().is_ok_and(|it| it.is_some());
            rescue::begin_again(&why(), since, file.as_deref().filter(|_| !is_kept));
            std::panic::resume_unwind(panic)
        }
        Err(_) => Err(format!("no window can be opened: {}", why())),
    }
}

/// Makes the window's first state, and says that it has begun.
fn boot(file: Option<PathBuf>, began: Arc<AtomicBool>, rescue: Rescue) -> impl Fn() -> (App, Task<Message>) {
    let stock = Arc::new(Stock::built_in());
    move || {
        began.store(true, Ordering::Relaxed);
        let large =
            file.as_ref().filter(|it| crate::disk::stamp(it).is_some_and(|it| LARGE_BYTES < it.bytes()));
        let app = match &file {
            Some(path) if large.is_none() => App::open(stock.clone(), path.clone()),
            Some(_) | None => App::new(stock.clone(), Joint::default(), None),
        };
        let app = match super::keeper::usual_folder() {
            Some(folder) => app.kept_in(folder).rescued_by(rescue.clone()),
            None => app,
        };
        let mut app = app.after_a_stop(rescue::stopped());
        // A large file is read while the window is there already.
        let task = large.map_or_else(Task::none, |it| app.with_path(Purpose::Open, it.clone()));
        (app, task)
    }
}

/// Hears what fails. The toolkit panics when a library of the display is missing: before the window has begun that
/// is the reason to hand back. Afterwards it is an error of ours: the work is written aside first, then it is shown.
fn listen(began: &Arc<AtomicBool>, rescue: &Rescue) -> Arc<Mutex<String>> {
    let said = Arc::new(Mutex::new(String::new()));
    let (said_too, began, rescue) = (said.clone(), began.clone(), rescue.clone());
    let usual = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |info| {
        if began.load(Ordering::Relaxed) {
            // Where it cannot be written there is nobody left to tell but the standard error below.
            let _ = rescue.save();
            usual(info);
        }
        if let Ok(mut said) = said_too.lock() {
            *said = rescue::words(info);
        }
    }));
    said
}

/// The window as a program that is not run yet, so that tests can drive it.
pub fn program(
    boot: impl Fn() -> (App, Task<Message>) + 'static,
) -> iced::Application<impl iced::Program<State = App, Message = Message, Theme = Theme>> {
    let mut app = iced::application(boot, App::update, App::view)
        .title(App::title)
        .theme(|app: &App| theme::theme(app.colours()))
        .scale_factor(App::scale)
        .subscription(App::subscription)
        .default_font(REGULAR)
        .antialiasing(true)
        .exit_on_close_request(false)
        .window(window::Settings {
            size: iced::Size::new(1280.0, 800.0),
            min_size: Some(LEAST),
            #[cfg(target_os = "linux")]
            platform_specific: window::settings::PlatformSpecific {
                application_id: "shankline".into(),
                ..window::settings::PlatformSpecific::default()
            },
            ..window::Settings::default()
        });
    for font in FONT_FILES {
        app = app.font(font);
    }
    app
}

/// Whether a display answers, so that the window is not tried in vain.
fn reachable_display() -> Result<(), String> {
    let named = |name: &str| std::env::var(name).ok().filter(|it| !it.is_empty());
    let wayland = named("WAYLAND_DISPLAY");
    let x11 = named("DISPLAY");
    if named("WAYLAND_SOCKET").is_some() {
        return Ok(());
    }
    match (wayland, x11) {
        (Some(display), _) => wayland_answers(&display, named("XDG_RUNTIME_DIR").as_deref()),
        (None, Some(display)) => x11_answers(&display),
        (None, None) => Err("no display: neither DISPLAY nor WAYLAND_DISPLAY is set".into()),
    }
}

#[cfg(unix)]
fn wayland_answers(display: &str, runtime: Option<&str>) -> Result<(), String> {
    let socket = PathBuf::from(runtime.unwrap_or_default()).join(display);
    std::os::unix::net::UnixStream::connect(&socket).map(drop).map_err(|why| {
        format!("no display: WAYLAND_DISPLAY names {}, which does not answer ({why})", socket.display())
    })
}

/// A display of this machine has a socket by its number; of another machine nothing is tried here.
#[cfg(unix)]
fn x11_answers(display: &str) -> Result<(), String> {
    let local = display.strip_prefix("unix").unwrap_or(display);
    let Some(number) = local.strip_prefix(':').and_then(|it| it.split('.').next()) else { return Ok(()) };
    let socket = PathBuf::from(format!("/tmp/.X11-unix/X{number}"));
    let abstract_one = {
        #[cfg(target_os = "linux")]
        {
            use std::os::linux::net::SocketAddrExt as _;
            std::os::unix::net::SocketAddr::from_abstract_name(socket.as_os_str().as_encoded_bytes())
                .and_then(|it| std::os::unix::net::UnixStream::connect_addr(&it))
                .is_ok()
        }
        #[cfg(not(target_os = "linux"))]
        {
            false
        }
    };
    if abstract_one || std::os::unix::net::UnixStream::connect(&socket).is_ok() {
        return Ok(());
    }
    Err(format!("no display: DISPLAY is {display}, which does not answer"))
}

#[cfg(not(unix))]
fn wayland_answers(_display: &str, _runtime: Option<&str>) -> Result<(), String> {
    Ok(())
}

#[cfg(not(unix))]
fn x11_answers(_display: &str) -> Result<(), String> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dead_display_is_told_in_one_line() {
        let said = x11_answers(":54321.0").unwrap_err();
        assert!(said.contains(":54321.0") && !said.contains('\n'), "{said}");
        let said = wayland_answers("wayland-none", Some("/nowhere")).unwrap_err();
        assert!(said.contains("/nowhere/wayland-none"), "{said}");
        assert_eq!(x11_answers("otherhost:0"), Ok(()), "a display elsewhere is left to the toolkit");
    }
}
