#include "seal/recipe.hpp"

#include <fmt/core.h>

namespace dryclock::seal {
namespace {

constexpr auto text = R"(How to check this folder
========================

Here are rows of a shop's journal as they were sealed: one row a line in segments/, {segments} segments with {rows} rows.
{withheld} other segments are withheld, because they belong to other customers or other days. Their names stand in
WITHHELD, and how many rows they hold in checkpoints/*.about. Every row of the journal has a number, and the
checkpoints account for each number.

With dryclock:    dryclock verify .
Without it, with GNU coreutils and openssl 3, in this folder, in a shell:

1. Nothing that is here was altered after it was sealed. This prints nothing:

    find checkpoints -name '*.sha256' -exec sha256sum --check --quiet --ignore-missing {{}} +

   --ignore-missing passes over what is not here: needed because of the withheld segments, but it also hides a
   checkpoint or a segment that is missing. So:

2. No checkpoint is missing. This prints {checkpoints}, as the last checkpoint is {last}:

    ls checkpoints | grep -c 'sha256$'

3. No file is missing but the segments named in WITHHELD. This prints nothing:

    find checkpoints -name '*.sha256' -exec cat {{}} + | cut -c 67- | while read -r name; do [ -e "$name" ] || echo "$name"; done | LC_ALL=C sort | cmp - WITHHELD

4. Each checkpoint names the one before it, and is signed with the shop's key; each key is named by the checkpoint
   before it takes over. This prints nothing:

    before=checkpoints/00000001.sha256; key=
    for list in checkpoints/*.sha256; do
      next=keys/$(basename "$list" .sha256).pem
      if grep -qF "  $next" "$before"; then key=$next; fi
      [ "$list" = "$before" ] || head -n 1 "$list" | grep -qF "  $before" || echo "not the next: $list"
      openssl pkeyutl -verify -rawin -pubin -inkey "$key" -sigfile "$list.sig" -in "$list" >/dev/null || echo "wrong: $list"
      before=$list
    done

5. It is the shop's own seal, unchanged since you were first told of it. The hashes that were printed for you, on the
   lay-down receipt or the hand-over sheet, must be among these; the first line is the key, the root of trust:

    find checkpoints -name '*.sha256' | LC_ALL=C sort | xargs sha256sum keys/00000001.pem

   When this folder was made they were
   {key}  keys/00000001.pem
   {sha256}  {last}

6. Time stamps. {stamps} checkpoints have one: NUMBER.tsr, in which an authority outside the shop signed when it saw
   NUMBER.sha256 (RFC 3161). Get the authority's certificate from the authority itself, not from the shop, as
   authority.pem; then each line of this must say "Verification: OK":

    for stamp in checkpoints/*.tsr; do [ -e "$stamp" ] || continue; openssl ts -verify -data "${{stamp%.tsr}}.sha256" -in "$stamp" -CAfile "${{AUTHORITY:-authority.pem}}" 2>/dev/null; done

What this proves: these rows were in the shop's journal in this order when they were sealed (`at` in
checkpoints/*.about), none between them is missing, and nobody without the key has changed them since. The key changes
every day and the old one is erased: who takes the shop's computer today cannot sign for yesterday.

What it does not prove:
- That a reading or an entry is true. A sensor can be wrong, and what a person enters is what that person says.
- That the shop itself did not make the whole seal anew: the shop owns the key. Only a hash that left the shop at the
  time binds the shop: the one printed for you, or one in the hands of a time stamping authority (RFC 3161).
- That nothing came after the last checkpoint that is here.
- That old keys cannot be found again in a copy of the disk, or in a flash chip's spare blocks.
)";

}  // namespace

std::string recipe(const Extracted& extracted) {
  return fmt::format(text, fmt::arg("segments", extracted.segments), fmt::arg("rows", extracted.rows),
                     fmt::arg("withheld", extracted.withheld), fmt::arg("stamps", extracted.stamps),
                     fmt::arg("checkpoints", extracted.last.number), fmt::arg("last", extracted.last.name),
                     fmt::arg("key", extracted.key_sha256), fmt::arg("sha256", extracted.last.sha256));
}

}  // namespace dryclock::seal
