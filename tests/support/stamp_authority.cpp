#include "support/stamp_authority.hpp"

#include <fstream>
#include <sstream>

#include "support/process.hpp"

namespace dryclock::test {

StampAuthority::StampAuthority() {
  std::ofstream(folder_ / "serial") << "01\n";
  std::ofstream(folder_ / "tsa.cnf")
      << "[req]\ndistinguished_name = name\nx509_extensions = stamping\nprompt = no\n"
         "[name]\nCN = test stamping authority\n"
         "[stamping]\nextendedKeyUsage = critical,timeStamping\n"
         "keyUsage = critical,digitalSignature\n"
         "basicConstraints = critical,CA:FALSE\n"
         "[tsa]\ndefault_tsa = tsa_config\n[tsa_config]\n"
      << "serial = " << (folder_ / "serial").string() << "\n"
      << "crypto_device = builtin\n"
      << "signer_cert = " << certificate().string() << "\n"
      << "certs = " << certificate().string() << "\n"
      << "signer_key = " << (folder_ / "tsa.key").string() << "\n"
      << "signer_digest = sha256\ndefault_policy = 1.2.3.4.1\n"
         "digests = sha256\nordering = yes\ntsa_name = yes\ness_cert_id_chain = no\n"
         "ess_cert_id_alg = sha256\n";
  run_to_end({"openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "1", "-config",
              folder_ / "tsa.cnf", "-keyout", folder_ / "tsa.key", "-out", certificate()});
}

std::string StampAuthority::answer(const std::string& query) const {
  std::ofstream(folder_ / "query", std::ios::binary) << query;
  run_to_end({"openssl", "ts", "-reply", "-config", folder_ / "tsa.cnf", "-queryfile", folder_ / "query",
              "-out", folder_ / "answer"});
  std::ostringstream bytes;
  bytes << std::ifstream(folder_ / "answer", std::ios::binary).rdbuf();
  return bytes.str();
}

}  // namespace dryclock::test
