#include "support/certificates.hpp"

#include <fstream>
#include <stdexcept>

#include "support/process.hpp"

namespace dryclock::test {
namespace {

void run(std::vector<std::string> arguments) {
  if (Process(std::move(arguments)).wait(std::chrono::seconds{60}) != 0) {
    throw std::runtime_error("openssl failed");
  }
}

}  // namespace

Certificates::Certificates() {
  const auto authority_key = folder_ / "ca.key";
  const auto request = folder_ / "server.csr";
  const auto names = folder_ / "names";
  std::ofstream(names) << "subjectAltName=DNS:localhost\n";
  run({"openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj",
       "/CN=test authority", "-keyout", authority_key, "-out", authority()});
  run({"openssl", "req", "-newkey", "rsa:2048", "-nodes", "-subj", "/CN=localhost", "-keyout", server_key(),
       "-out", request});
  run({"openssl", "x509", "-req", "-in", request, "-CA", authority(), "-CAkey", authority_key,
       "-CAcreateserial", "-days", "2", "-extfile", names, "-out", server()});
}

}  // namespace dryclock::test
