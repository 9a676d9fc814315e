#pragma once

#include <memory>
#include <string>
#include <string_view>

namespace heatside::page {

class Memory;

/// The engine behind the page: a request as JSON text in, an answer as JSON text out; see README.md beside this file.
class Seam {
 public:
  Seam();
  Seam(const Seam&) = delete;
  Seam& operator=(const Seam&) = delete;
  ~Seam();

  /// No exception leaves. Where the data of the request are bad the answer is
  /// `{"errors": [{"file", "place", "what"}]}`, where the engine fails `{"failure": words}`.
  /// @par Tested by  tests/page/seam_test.cpp; tests/page/same_numbers.py, against the command line
  [[nodiscard]] std::string answer(std::string_view request) noexcept;

 private:
  std::unique_ptr<Memory> memory_;
};

}  // namespace heatside::page
