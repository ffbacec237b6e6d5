#include "support/certificates.hpp"

#include <fstream>

#include "support/process.hpp"

namespace dryclock::test {
Certificates::Certificates() {
  const auto authority_key = folder_ / "ca.key";
  const auto request = folder_ / "server.csr";
  const auto names = folder_ / "names";
  std::ofstream(names) << "subjectAltName=DNS:localhost\n";
  run_to_end({"openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj",
              "/CN=test authority", "-keyout", authority_key, "-out", authority()});
  run_to_end({"openssl", "req", "-newkey", "rsa:2048", "-nodes", "-subj", "/CN=localhost", "-keyout",
              server_key(), "-out", request});
  run_to_end({"openssl", "x509", "-req", "-in", request, "-CA", authority(), "-CAkey", authority_key,
              "-CAcreateserial", "-days", "2", "-extfile", names, "-out", server()});
}

}  // namespace dryclock::test
