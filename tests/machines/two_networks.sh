#!/bin/sh
# Two machines as far as the network can tell: two network namespaces of this one, joined by a cable of their own.
#   two_networks.sh MPIRUN RUSHLIGHT-MPI WORDS...
# Exit status 77 where this is not permitted. MPI starts the second machine as it would by ssh, through the script that
# is written here.
set -eu
mpirun=$1
shift
a=rushlight-a-$$ b=rushlight-b-$$
work=$(mktemp -d)
end() {
    ip netns del "$a" 2>/dev/null || true
    ip netns del "$b" 2>/dev/null || true
    rm -rf "$work"
}
trap end EXIT
trap 'exit 130' INT TERM

command -v ip >/dev/null || exit 77
ip netns add "$a" 2>/dev/null || exit 77
ip netns add "$b" 2>/dev/null || exit 77
ip link add "ra$$" netns "$a" type veth peer name "rb$$" netns "$b" 2>/dev/null || exit 77
ip -n "$a" addr add 10.77.0.1/24 dev "ra$$"
ip -n "$b" addr add 10.77.0.2/24 dev "rb$$"
for end_of_cable in "$a ra$$" "$b rb$$"; do
    set_up=${end_of_cable% *}
    ip -n "$set_up" link set lo up
    ip -n "$set_up" link set "${end_of_cable#* }" up
done

cat >"$work/start-there" <<END
#!/bin/sh
# As ssh: the first word is the machine, the rest is what it shall do.
shift
exec ip netns exec $b unshare --uts sh -c "hostname attic; \$*"
END
chmod +x "$work/start-there"

ip netns exec "$a" unshare --uts sh -c 'hostname cellar; exec "$@"' sh \
    "$mpirun" --mca plm_rsh_agent "$work/start-there" --mca btl self,tcp --mca btl_tcp_if_include 10.77.0.0/24 \
    --mca oob_tcp_if_include 10.77.0.0/24 --host 10.77.0.1:1,10.77.0.2:1 -n 2 "$@"
