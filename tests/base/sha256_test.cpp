#include "base/sha256.hpp"

#include <catch2/catch.hpp>
#include <string>

using heatside::base64;
using heatside::sha256;
using heatside::sha256_bytes;

// Source: NIST, Cryptographic Standards and Guidelines, examples with intermediate values for SHA-256, and the message of a
// million "a" of its additional test vectors (from memory).
TEST_CASE("sha256: published examples", "[base]") {
  CHECK(sha256("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  CHECK(sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  CHECK(sha256(std::string(1000000, 'a')) == "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

// A digest that ends a block, or just does not: the length must still find its place.
TEST_CASE("sha256: every length about a block has a digest of its own", "[base]") {
  std::string last;
  for (std::size_t length = 50; length < 70; ++length) {
    const std::string digest = sha256(std::string(length, 'x'));
    CHECK(digest.size() == 64);
    CHECK(digest != last);
    last = digest;
  }
}

// Source: RFC 4648, section 10.
TEST_CASE("base64: published examples", "[base]") {
  CHECK(base64("").empty());
  CHECK(base64("f") == "Zg==");
  CHECK(base64("fo") == "Zm8=");
  CHECK(base64("foo") == "Zm9v");
  CHECK(base64("foobar") == "Zm9vYmFy");
  CHECK(base64(sha256_bytes("")) == "47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=");
}
