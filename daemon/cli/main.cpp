#include "cli/command_line.hpp"

int main(int argc, char** argv) {
  return dryclock::cli::run_command_line(argc, argv);
}
