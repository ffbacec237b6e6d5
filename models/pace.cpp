#include "models/pace.hpp"
