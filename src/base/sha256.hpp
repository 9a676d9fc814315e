#pragma once

#include <string>
#include <string_view>

namespace heatside {

/// SHA-256 of bytes: 32 bytes.
/// @par Source     FIPS 180-4
/// @par Tested by  tests/base/sha256_test.cpp: examples of NIST
[[nodiscard]] std::string sha256_bytes(std::string_view bytes);

/// The same in hexadecimal.
[[nodiscard]] std::string sha256(std::string_view bytes);

/// Bytes in base64.
/// @par Source  RFC 4648, section 4
[[nodiscard]] std::string base64(std::string_view bytes);

}  // namespace heatside
