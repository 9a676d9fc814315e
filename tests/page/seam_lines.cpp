#include <iostream>
#include <string>

#include "page/engine/seam.hpp"

/// The seam of the page without WebAssembly: a request a line on standard input; for each the number of bytes of its answer,
/// a line end and the answer.

int main() {
  heatside::page::Seam seam;
  std::string request;
  while (std::getline(std::cin, request)) {
    const std::string answer = seam.answer(request);
    std::cout << answer.size() << '\n' << answer << std::flush;
  }
  return 0;
}
