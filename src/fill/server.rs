//! The server of the form: it listens, keeps strangers out, bounds what anybody can send or
//! hold, and stops when nobody has come for a while.

use std::convert::Infallible;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use chrono::{DateTime, FixedOffset};
use http_body_util::{BodyExt, Full, Limited};
use hyper::body::{Bytes, Incoming};
use hyper::header::{self, HeaderMap, HeaderName, HeaderValue};
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper::{Method, Request, Response, StatusCode};
use hyper_util::rt::{TokioIo, TokioTimer};
use tokio::net::TcpListener;
use tokio::sync::Semaphore;
use tokio::time::{sleep, timeout};

use super::acts::{Act, Done, done_page, refused_page};
use super::frame::plain_page;
use super::patience::Patient;
use super::routes::{Answer, Job, Moment, asset, nothing_here, show, take, take_upload};
use super::session::{COOKIE, Refused, Said, Sessions, check, check_host};
use super::steps::Part;
use super::typed::Zone;
use super::uploads::{FILM_LIMIT, receive};

/// The most connections at once, of this computer and of the network each.
const ROOM: usize = 64;
/// How long a request line and its headers may take, a form, and a whole exchange.
const HEADERS: Duration = Duration::from_secs(8);
const FORM: Duration = Duration::from_secs(15);
const EXCHANGE: Duration = Duration::from_secs(60);
/// How long the upload of a film may take.
const UPLOAD: Duration = Duration::from_secs(3600);
/// The largest form without a file, and the longest headers, in bytes.
const FORM_LIMIT: usize = 256 << 10;
const HEADER_LIMIT: usize = 16 << 10;

/// What the server needs of the world.
pub struct World {
    /// What time it is.
    pub now: Box<dyn Fn() -> DateTime<FixedOffset> + Send + Sync>,
    /// How far clocks here are ahead of UTC, in summer and in winter.
    pub zone: Zone,
    /// A word that nobody can guess.
    pub secret: Box<dyn Fn() -> Option<String> + Send + Sync>,
    /// Does what is asked for by a button, where that can be done without a question.
    pub act: Option<Box<dyn Fn(Act) -> Done + Send + Sync>>,
}

/// Where to listen, and for how long.
#[derive(Debug, Clone)]
pub struct Listen {
    /// The address of this computer in the local network, to listen there too.
    pub network: Option<String>,
    /// The port; 0 for a free one.
    pub port: u16,
    /// After how long without a request it stops.
    pub idle: Duration,
}

/// The form, open for one job.
pub struct Form {
    shared: Arc<Shared>,
    runtime: tokio::runtime::Runtime,
    local: TcpListener,
    network: Option<TcpListener>,
    idle: Duration,
}

/// What all requests share.
struct Shared {
    job: Job,
    world: World,
    sessions: Mutex<Sessions>,
    /// The names under which the server answers.
    hosts: Vec<String>,
    network: Option<String>,
    /// One writer at a time.
    writing: Mutex<()>,
    requests: AtomicU64,
}

/// Makes one-time addresses.
#[derive(Clone)]
pub struct Doorkeeper(Arc<Shared>);

impl Doorkeeper {
    /// A new address that opens the form once, here or for a phone in the network.
    pub fn address(&self, for_phone: bool) -> Option<String> {
        let shared = &self.0;
        let host = match for_phone {
            true => shared.network.as_ref()?,
            false => shared.hosts.first()?,
        };
        let token = (shared.world.secret)()?;
        lock(&shared.sessions).open(token.clone());
        Some(format!("http://{host}/open/{token}"))
    }
}

fn lock<T>(mutex: &Mutex<T>) -> std::sync::MutexGuard<'_, T> {
    // What is inside is whole at every moment.
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Form {
    /// Opens the form of `job`.
    ///
    /// # Errors
    /// What the system says where it cannot listen.
    pub fn open(job: Job, world: World, listen: &Listen) -> Result<Self, String> {
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .build()
            .map_err(|error| error.to_string())?;
        let bind = |host: &str, port: u16| {
            let address = format!("{host}:{port}");
            let bound = runtime.block_on(TcpListener::bind(&address));
            bound.map_err(|error| format!("{address}: {error}"))
        };
        let local = bind("127.0.0.1", listen.port)?;
        let port = local
            .local_addr()
            .map_err(|error| error.to_string())?
            .port();
        let network = match &listen.network {
            Some(host) => Some(bind(host, port)?),
            None => None,
        };
        let own = listen.network.as_ref().map(|host| format!("{host}:{port}"));
        let mut hosts = vec![format!("127.0.0.1:{port}"), format!("localhost:{port}")];
        hosts.extend(own.clone());
        let shared = Arc::new(Shared {
            job,
            world,
            sessions: Mutex::default(),
            hosts,
            network: own,
            writing: Mutex::new(()),
            requests: AtomicU64::new(0),
        });
        Ok(Self {
            shared,
            runtime,
            local,
            network,
            idle: listen.idle,
        })
    }

    /// Who makes addresses.
    pub fn doorkeeper(&self) -> Doorkeeper {
        Doorkeeper(self.shared.clone())
    }

    /// Serves until nobody has come for a while.
    pub fn serve(self) {
        let Self {
            shared,
            runtime,
            local,
            network,
            idle,
        } = self;
        runtime.block_on(async move {
            tokio::spawn(accept(shared.clone(), local, false));
            if let Some(network) = network {
                tokio::spawn(accept(shared.clone(), network, true));
            }
            let mut seen = None;
            loop {
                let now = shared.requests.load(Ordering::Relaxed);
                if seen == Some(now) {
                    break;
                }
                seen = Some(now);
                sleep(idle).await;
            }
        });
        // Whatever is still being received is not waited for.
        runtime.shutdown_background();
    }
}

/// Takes connections, each with a place of its own; beyond the room they are closed.
async fn accept(shared: Arc<Shared>, listener: TcpListener, exposed: bool) {
    let room = Arc::new(Semaphore::new(ROOM));
    loop {
        let Ok((stream, _)) = listener.accept().await else {
            sleep(Duration::from_millis(50)).await;
            continue;
        };
        let Ok(place) = room.clone().try_acquire_owned() else {
            continue;
        };
        let shared = shared.clone();
        tokio::spawn(async move {
            let uploads = Arc::new(AtomicBool::new(false));
            let flag = uploads.clone();
            let service = service_fn(move |request| {
                let (shared, flag) = (shared.clone(), flag.clone());
                async move { Ok::<_, Infallible>(answer(&shared, request, exposed, &flag).await) }
            });
            let connection = http1::Builder::new()
                .timer(TokioTimer::new())
                .header_read_timeout(HEADERS)
                .max_buf_size(HEADER_LIMIT)
                .keep_alive(false)
                .serve_connection(TokioIo::new(stream), service);
            tokio::pin!(connection);
            let ended = timeout(EXCHANGE, &mut connection).await;
            if ended.is_err() && uploads.load(Ordering::Relaxed) {
                // Each piece of it is waited for only so long.
                let _ = timeout(UPLOAD, connection).await;
            }
            drop(place);
        });
    }
}

/// What the request says of where it comes from.
fn said(headers: &HeaderMap) -> Said<'_> {
    let get = |name: &str| headers.get(name).and_then(|value| value.to_str().ok());
    Said {
        host: get("host"),
        origin: get("origin"),
        site: get("sec-fetch-site"),
        cookie: get("cookie"),
    }
}

async fn answer(
    shared: &Arc<Shared>,
    request: Request<Incoming>,
    exposed: bool,
    uploads: &AtomicBool,
) -> Response<Full<Bytes>> {
    let words = &shared.job.words;
    let path = request.uri().path().to_owned();
    let changes = !matches!(*request.method(), Method::GET | Method::HEAD);
    let refused = |refusal: Refused| {
        let (title, text) = match refusal {
            Refused::Stranger => ("fill-used-title", "fill-used"),
            Refused::Host | Refused::Origin => ("fill-refused-title", "fill-refused"),
        };
        Answer::page(
            403,
            plain_page(words, &words.say(title), &words.say(text), None),
        )
    };
    let headers = said(request.headers());
    if let Some(token) = path.strip_prefix("/open/").filter(|_| !changes) {
        return match check_host(headers, &shared.hosts) {
            Ok(()) => enter(shared, token, exposed),
            Err(refusal) => respond(refused(refusal)),
        };
    }
    if let Some(asset) = asset(&path).filter(|_| !changes) {
        return respond(match check_host(headers, &shared.hosts) {
            Ok(()) => asset,
            Err(refusal) => refused(refusal),
        });
    }
    let allowed = check(headers, &shared.hosts, changes, &lock(&shared.sessions));
    if let Err(refusal) = allowed {
        return respond(refused(refusal));
    }
    shared.requests.fetch_add(1, Ordering::Relaxed);
    let moment = Moment {
        now: (shared.world.now)(),
        zone: shared.world.zone,
        exposed,
        can_act: shared.world.act.is_some(),
    };
    let query = request.uri().query().unwrap_or_default().to_owned();
    let method = request.method().clone();
    let of = |part: &Part| path == format!("/{}/media", part.word());
    let part = Part::ALL.into_iter().find(|part| of(part));
    match (method, part) {
        (Method::GET | Method::HEAD, _) => {
            blocking(shared, move |shared| {
                show(&shared.job, &moment, &path, &query)
            })
            .await
        }
        (Method::POST, Some(part)) => upload(shared, request, part, uploads).await,
        (Method::POST, None) if path.starts_with("/do/") => {
            let act = Act::at(&path).filter(|_| !exposed && shared.world.act.is_some());
            let Some(act) = act else {
                return respond(refused_page(words));
            };
            // Hashing a long film takes its time.
            uploads.store(true, Ordering::Relaxed);
            blocking(shared, move |shared| {
                let _one = lock(&shared.writing);
                match &shared.world.act {
                    Some(work) => done_page(&shared.job, &work(act)),
                    None => nothing_here(&shared.job.words),
                }
            })
            .await
        }
        (Method::POST, None) => {
            let body = Limited::new(request.into_body(), FORM_LIMIT).collect();
            match timeout(FORM, body).await {
                Ok(Ok(body)) => {
                    let body = body.to_bytes();
                    blocking(shared, move |shared| {
                        let _one = lock(&shared.writing);
                        take(&shared.job, &moment, &path, &body)
                    })
                    .await
                }
                Ok(Err(_)) => {
                    let text = words.say("fill-too-large");
                    respond(Answer::page(413, plain_page(words, &text, "", None)))
                }
                Err(_) => {
                    let text = words.say("fill-upload-broken");
                    respond(Answer::page(408, plain_page(words, &text, "", None)))
                }
            }
        }
        _ => respond(nothing_here(words)),
    }
}

/// Lets in whoever comes by a one-time address.
fn enter(shared: &Shared, token: &str, exposed: bool) -> Response<Full<Bytes>> {
    let words = &shared.job.words;
    let cookie = (shared.world.secret)();
    let entered = cookie.filter(|cookie| lock(&shared.sessions).enter(token, cookie.clone()));
    let Some(cookie) = entered else {
        let (title, text) = (words.say("fill-used-title"), words.say("fill-used"));
        return respond(Answer::page(403, plain_page(words, &title, &text, None)));
    };
    shared.requests.fetch_add(1, Ordering::Relaxed);
    // Over the network it is said before the first figure that others may read along.
    let answer = if exposed {
        let (title, text) = (words.say("fill-welcome-title"), words.say("fill-welcome"));
        let link = words.say("fill-go-on");
        Answer::page(200, plain_page(words, &title, &text, Some(("/", &link))))
    } else {
        Answer::see("/")
    };
    let mut response = respond(answer);
    let cookie = format!("{COOKIE}={cookie}; HttpOnly; SameSite=Strict; Path=/");
    if let Ok(value) = HeaderValue::from_str(&cookie) {
        response.headers_mut().insert(header::SET_COOKIE, value);
    }
    response
}

async fn upload(
    shared: &Arc<Shared>,
    request: Request<Incoming>,
    part: Part,
    uploads: &AtomicBool,
) -> Response<Full<Bytes>> {
    let kind = request.headers().get(header::CONTENT_TYPE);
    let boundary = kind.and_then(|kind| kind.to_str().ok());
    let Some(boundary) = boundary.and_then(|kind| multer::parse_boundary(kind).ok()) else {
        return respond(nothing_here(&shared.job.words));
    };
    uploads.store(true, Ordering::Relaxed);
    let body = Patient::new(request.into_body());
    let limits = multer::SizeLimit::new().whole_stream(FILM_LIMIT + (1 << 20));
    let constraints = multer::Constraints::new().size_limit(limits);
    let stream = body.into_data_stream();
    let form = multer::Multipart::with_constraints(stream, boundary, constraints);
    let received = receive(form, &shared.job.folder).await;
    blocking(shared, move |shared| {
        let _one = lock(&shared.writing);
        take_upload(&shared.job, part, received)
    })
    .await
}

/// Does what touches the disk aside from the connections.
async fn blocking(
    shared: &Arc<Shared>,
    work: impl FnOnce(&Shared) -> Answer + Send + 'static,
) -> Response<Full<Bytes>> {
    let own = shared.clone();
    let done = tokio::task::spawn_blocking(move || work(&own)).await;
    respond(done.unwrap_or_else(|_| {
        let words = &shared.job.words;
        let title = words.say("fill-unreadable");
        Answer::page(500, plain_page(words, &title, "", None))
    }))
}

/// What every answer says: nothing from elsewhere, nothing kept, nothing framed.
const ALWAYS: [(&str, &str); 7] = [
    (
        "content-security-policy",
        "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; \
         img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; \
         frame-ancestors 'none'",
    ),
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    ("referrer-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    ("cache-control", "no-store"),
];

fn respond(answer: Answer) -> Response<Full<Bytes>> {
    let mut response = Response::new(Full::new(Bytes::from(answer.body)));
    *response.status_mut() =
        StatusCode::from_u16(answer.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
    let headers = response.headers_mut();
    for (name, value) in ALWAYS {
        headers.insert(
            HeaderName::from_static(name),
            HeaderValue::from_static(value),
        );
    }
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(answer.mime));
    let location = answer
        .location
        .and_then(|to| HeaderValue::from_str(&to).ok());
    if let Some(location) = location {
        headers.insert(header::LOCATION, location);
    }
    response
}
