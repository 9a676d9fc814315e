#pragma once

#include <string>

namespace heatside::app {

/// Where the page can be had.
struct PageAddress {
  std::string host = "127.0.0.1";
  int port = 0;  ///< 0: any that is free
};

/// Hands out one page over HTTP, and nothing else, until the process is asked to end (SIGINT, SIGTERM).
/// @throws Stop  io_error: the address cannot be had, because it is taken or is not of this machine
void serve_page(const std::string& page, const PageAddress& address);

}  // namespace heatside::app
