#include <doctest/doctest.h>

#include <fstream>

#include "inbox.hpp"
#include "support/certificates.hpp"
#include "support/eventually.hpp"
#include "support/mosquitto.hpp"
#include "support/process.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::mqtt {
namespace {

using test::eventually;

TEST_CASE("over TLS the certificate and the host's name are checked, and the password is asked for") {
  const test::ScratchFolder folder;
  const test::Certificates certificates;
  test::Process hash({"mosquitto_passwd", "-b", "-c", folder / "passwords", "dryclock", "a secret"});
  REQUIRE(hash.wait(std::chrono::seconds{10}) == 0);
  std::ofstream(folder / "password") << "a secret\n";
  const test::Mosquitto broker({"allow_anonymous false", "password_file " + (folder / "passwords").string(),
                                "certfile " + certificates.server().string(),
                                "keyfile " + certificates.server_key().string()});
  Options right;
  right.host = "localhost";
  right.port = broker.port();
  right.tls = true;
  right.ca_file = certificates.authority();
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
