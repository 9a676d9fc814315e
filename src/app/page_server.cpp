#include "app/page_server.hpp"

#include <fmt/format.h>
#include <httplib.h>
#include <pthread.h>
#include <sys/socket.h>

#include <csignal>
#include <thread>

#include "app/exit_code.hpp"
#include "app/files.hpp"

namespace heatside::app {

namespace {

// Ends the server when the process is asked to end. The signals are blocked in every thread that is made while it lives, so
// that they wait for the one thread that takes them.
class Ending {
 public:
  explicit Ending(httplib::Server& server) {
    sigset_t ends;
    ::sigemptyset(&ends);
    ::sigaddset(&ends, SIGINT);
    ::sigaddset(&ends, SIGTERM);
    ::pthread_sigmask(SIG_BLOCK, &ends, &before_);
    waiting_ = std::thread{[ends, &server] {
      int which = 0;
      ::sigwait(&ends, &which);
      server.stop();
    }};
  }
  Ending(const Ending&) = delete;
  Ending& operator=(const Ending&) = delete;
  ~Ending() {
    // A server that ended by itself leaves the thread waiting.
    ::pthread_kill(waiting_.native_handle(), SIGTERM);
    waiting_.join();
    ::pthread_sigmask(SIG_SETMASK, &before_, nullptr);
  }

 private:
  sigset_t before_{};
  std::thread waiting_;
};

// The library's own choice would let two servers share a port, each getting some of the requests.
void take_port_alone(httplib::Server& server) {
  server.set_socket_options([](socket_t socket) {
    const int yes = 1;
    ::setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
  });
}

void hand_out(httplib::Server& server, const std::string& page) {
  constexpr std::size_t at_once = 4;
  server.new_task_queue = [] { return new httplib::ThreadPool(at_once); };
  server.set_tcp_nodelay(true);
  server.set_payload_max_length(0);
  server.set_default_headers({{"Cache-Control", "no-store"},
                              {"X-Content-Type-Options", "nosniff"},
                              {"Referrer-Policy", "no-referrer"},
                              {"Content-Security-Policy", "frame-ancestors 'none'"}});
  const auto whole_page = [&page](const httplib::Request&, httplib::Response& response) {
    response.set_content(page, "text/html; charset=utf-8");
  };
  server.Get("/", whole_page);
  server.Get("/heatside.html", whole_page);
}

// An address of version 6 stands in brackets before its port.
std::string link_to(const std::string& host, int port) {
  const bool brackets = host.find(':') != std::string::npos;
  return fmt::format("http://{}{}{}:{}/", brackets ? "[" : "", host, brackets ? "]" : "", port);
}

}  // namespace

void serve_page(const std::string& page, const PageAddress& address) {
  httplib::Server server;
  take_port_alone(server);
  hand_out(server, page);
  int port = address.port;
  const bool bound =
      port == 0 ? (port = server.bind_to_any_port(address.host)) > 0 : server.bind_to_port(address.host, port);
  if (!bound)
    throw Stop{
        ExitCode::io_error,
        fmt::format("{} cannot be had: is the port taken, or the host none of this machine? --port chooses another one",
                    link_to(address.host, address.port))};
  const Ending ending{server};
  write_message(fmt::format("{} shows the page; Ctrl-C ends it\n", link_to(address.host, port)));
  if (!server.listen_after_bind()) throw Stop{ExitCode::io_error, "the server of the page gave up"};
}

}  // namespace heatside::app
