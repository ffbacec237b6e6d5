// Certificates made by the openssl program for this test: an authority, and a server that is "localhost".
#include <doctest/doctest.h>

#include <fstream>

#include "inbox.hpp"
#include "support/eventually.hpp"
#include "support/mosquitto.hpp"
#include "support/process.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::mqtt {
namespace {

using test::eventually;

void run(std::vector<std::string> arguments) {
  test::Process process(std::move(arguments));
  REQUIRE(process.wait(std::chrono::seconds{30}) == 0);
}

void make_certificates(const test::ScratchFolder& folder) {
  std::ofstream(folder / "names") << "subjectAltName=DNS:localhost\n";
  run({"openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj",
       "/CN=test authority", "-keyout", folder / "ca.key", "-out", folder / "ca.pem"});
  run({"openssl", "req", "-newkey", "rsa:2048", "-nodes", "-subj", "/CN=localhost", "-keyout",
       folder / "server.key", "-out", folder / "server.csr"});
  run({"openssl", "x509", "-req", "-in", folder / "server.csr", "-CA", folder / "ca.pem", "-CAkey",
       folder / "ca.key", "-CAcreateserial", "-days", "2", "-extfile", folder / "names", "-out",
       folder / "server.pem"});
}

TEST_CASE("over TLS the certificate and the host's name are checked, and the password is asked for") {
  const test::ScratchFolder folder;
  make_certificates(folder);
  run({"mosquitto_passwd", "-b", "-c", folder / "passwords", "dryclock", "a secret"});
  std::ofstream(folder / "password") << "a secret\n";
  const test::Mosquitto broker({"allow_anonymous false", "password_file " + (folder / "passwords").string(),
                                "certfile " + (folder / "server.pem").string(),
                                "keyfile " + (folder / "server.key").string()});
  Options right;
  right.host = "localhost";
  right.port = broker.port();
  right.tls = true;
  right.ca_file = folder / "ca.pem";
  right.user = "dryclock";
  right.password_file = folder / "password";
  const auto connects = [](const Options& options) {
    Inbox inbox;
    Client client(options, {"bay/#"}, inbox.hooks());
    REQUIRE(client.start().has_value());
    return eventually([&] { return client.connected(); }, std::chrono::seconds{3});
  };
  CHECK(connects(right));
  auto other_name = right;
  other_name.host = "127.0.0.1";  // the same machine, but not the name in the certificate
  CHECK_FALSE(connects(other_name));
  auto unknown_authority = right;
  unknown_authority.ca_file.clear();
  CHECK_FALSE(connects(unknown_authority));
  std::ofstream(folder / "password") << "another\n";
  CHECK_FALSE(connects(right));
}

}  // namespace
}  // namespace dryclock::mqtt
