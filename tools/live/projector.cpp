#include "projector.hpp"

#include <httplib.h>
#include <sys/random.h>

#include <array>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <mutex>
#include <thread>

#include "bounded_queue.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/projector_page.hpp"

namespace pulsewright::program {
namespace {

/// Browsers that look at the same time, and threads for what else is asked.
constexpr int most_streams = 8;
constexpr std::size_t threads = most_streams + 4, most_waiting = 64;
/// A request is a line and some headers; a body has no place in it.
constexpr std::size_t most_body = 0;
/// Seconds in which a request must have come, and in which a client must take what it is sent.
constexpr time_t read_within_s = 1, write_within_s = 3;
/// Requests a second, for all clients together; a page that is opened asks for two.
constexpr double most_per_second = 30, most_at_once = 60;
/// A stream says something at least so often, so that a browser knows that it stands.
constexpr auto silent_at_most = std::chrono::seconds{1};

std::string new_token() {
  std::array<unsigned char, 16> bytes{};
  if (::getrandom(bytes.data(), bytes.size(), 0) != static_cast<ssize_t>(bytes.size()))
    throw Error(ErrorCode::usage, "--serve-at: this system gives no random numbers for a token");
  static constexpr const char* digits = "0123456789abcdef";
  std::string token;
  for (const unsigned char byte : bytes) {
    token += digits[byte / 16];
    token += digits[byte % 16];
  }
  return token;
}

/// Takes as long for a wrong token as for the right one.
bool same(const std::string& a, const std::string& b) {
  unsigned char differ = a.size() == b.size() ? 0 : 1;
  for (std::size_t i = 0; i < std::min(a.size(), b.size()); ++i)
    differ = static_cast<unsigned char>(differ | (static_cast<unsigned char>(a[i]) ^ static_cast<unsigned char>(b[i])));
  return differ == 0;
}

}  // namespace

struct Projector::Server {
  explicit Server(const ProjectorSetup& asked) : setup(asked), page(projector_page(asked.language)) {
    if (setup.beyond_loopback) token = new_token();
    http.new_task_queue = [] { return new BoundedQueue{threads, most_waiting}; };
    http.set_payload_max_length(most_body);
    http.set_keep_alive_max_count(1);
    http.set_read_timeout(read_within_s);
    http.set_write_timeout(write_within_s);
    http.set_pre_routing_handler([this](const httplib::Request& request, httplib::Response& response) {
      return check(request, response) ? httplib::Server::HandlerResponse::Unhandled
                                      : httplib::Server::HandlerResponse::Handled;
    });
    http.set_default_headers({{"X-Content-Type-Options", "nosniff"},
                              {"Referrer-Policy", "no-referrer"},
                              {"Cross-Origin-Resource-Policy", "same-origin"},
                              {"Cache-Control", "no-store"}});
    http.Get("/", [this](const httplib::Request&, httplib::Response& response) {
      response.set_header("Content-Security-Policy", page.policy);
      response.set_content(page.html, "text/html; charset=utf-8");
    });
    http.Get("/course", [this](const httplib::Request&, httplib::Response& response) { stream(response); });
  }

  static bool refuse(httplib::Response& response, int status, const std::string& why) {
    response.status = status;
    response.set_content(why + "\n", "text/plain; charset=utf-8");
    return false;
  }

  /// Whether a request is one of ours. A page of another origin, or a name that was made to lead
  /// here, is not.
  bool check(const httplib::Request& request, httplib::Response& response) {
    if (!within_rate()) return refuse(response, 429, "too many requests");
    if (request.method != "GET") return refuse(response, 405, "only GET is answered");
    const std::string host = request.get_header_value("Host");
    const std::string port = ":" + std::to_string(setup.port);
    const bool known = host == setup.address + port || host == "127.0.0.1" + port || host == "localhost" + port;
    if (!known && !setup.beyond_loopback) return refuse(response, 403, "this is not the name of this page");
    if (request.has_header("Origin") && request.get_header_value("Origin") != "http://" + host)
      return refuse(response, 403, "another page asks");
    if (request.has_header("Sec-Fetch-Site")) {
      const std::string site = request.get_header_value("Sec-Fetch-Site");
      if (site != "same-origin" && site != "none") return refuse(response, 403, "another page asks");
    }
    if (!token.empty() && !same(request.get_param_value("token"), token))
      return refuse(response, 403, "the token is missing or wrong; the address that was printed has it");
    return true;
  }

  bool within_rate() {
    const std::lock_guard lock{rate_mutex};
    const auto now = std::chrono::steady_clock::now();
    allowed = std::min(most_at_once, allowed + most_per_second * std::chrono::duration<double>(now - counted).count());
    counted = now;
    if (allowed < 1) return false;
    allowed -= 1;
    return true;
  }

  void stream(httplib::Response& response) {
    if (streams.fetch_add(1) >= most_streams) {
      --streams;
      refuse(response, 503, "too many browsers look already");
      return;
    }
    response.set_chunked_content_provider(
        "text/event-stream",
        [this, seen = std::uint64_t{0}](std::size_t, httplib::DataSink& sink) mutable {
          std::string event;
          {
            std::unique_lock lock{mutex};
            changed.wait_for(lock, silent_at_most, [&] { return stopping || version != seen; });
            if (stopping) {
              sink.done();
              return false;
            }
            event = version != seen ? "retry: 1000\ndata: " + state + "\n\n" : ":\n\n";
            seen = version;
          }
          return sink.write(event.data(), event.size());
        },
        [this](bool) { --streams; });
  }

  ProjectorSetup setup;
  ProjectorPage page;
  std::string token, url;
  httplib::Server http;
  std::thread listener;
  std::atomic<int> streams{0};
  std::mutex mutex;
  std::condition_variable changed;
  std::string state;
  std::uint64_t version = 0;
  bool stopping = false;
  std::mutex rate_mutex;
  double allowed = most_at_once;
  std::chrono::steady_clock::time_point counted = std::chrono::steady_clock::now();
};

Projector::Projector(const ProjectorSetup& setup) : server_(std::make_unique<Server>(setup)) {
  Server& s = *server_;
  if (s.setup.port == 0) {
    s.setup.port = s.http.bind_to_any_port(s.setup.address);
    if (s.setup.port <= 0) s.setup.port = 0;
  } else if (!s.http.bind_to_port(s.setup.address, s.setup.port)) {
    s.setup.port = 0;
  }
  if (s.setup.port == 0)
    throw Error(ErrorCode::usage, "--serve: cannot listen at " + setup.address + " port " + std::to_string(setup.port) +
                                      "; is it taken by another program?");
  s.url = "http://" + s.setup.address + ":" + std::to_string(s.setup.port) + "/" +
          (s.token.empty() ? "" : "?token=" + s.token);
  s.listener = std::thread{[&s] { s.http.listen_after_bind(); }};
}

Projector::~Projector() {
  {
    const std::lock_guard lock{server_->mutex};
    server_->stopping = true;
  }
  server_->changed.notify_all();
  server_->http.stop();
  server_->listener.join();
}

void Projector::show(const std::string& state) {
  {
    const std::lock_guard lock{server_->mutex};
    server_->state = state;
    ++server_->version;
  }
  server_->changed.notify_all();
}

const std::string& Projector::url() const { return server_->url; }

}  // namespace pulsewright::program
