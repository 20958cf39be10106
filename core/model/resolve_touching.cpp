#include "core/model/resolver.h"
namespace hoopwright::resolving {
void Resolver::findAlso() {}
}  // namespace hoopwright::resolving
