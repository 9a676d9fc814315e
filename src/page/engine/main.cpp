#include <cstdlib>
#include <cstring>
#include <string>

#include "page/engine/seam.hpp"

/// What JavaScript calls.

extern "C" {

/// @param request  JSON text, ends with a nought
/// @return         JSON text, to be freed; null where memory has run out
[[gnu::used]] char* heatside_answer(const char* request) {
  static heatside::page::Seam seam;
  const std::string answer = seam.answer(request);
  char* text = static_cast<char*>(std::malloc(answer.size() + 1));
  if (text != nullptr) std::memcpy(text, answer.c_str(), answer.size() + 1);
  return text;
}
}
