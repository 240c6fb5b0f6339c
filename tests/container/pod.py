"""Starts the Deployment of deploy/kubernetes/base as a pod, with podman, which knows neither probes nor Services."""

import json
import shutil

from engine import Container
from files import KUBERNETES, render
from machine import check, say

KUSTOMIZATION = """
apiVersion: kustomize.config.k8s.io/v1beta1
kind: Kustomization
resources: [base]
images: [{name: pleatwright, newName: localhost/pleatwright, newTag: latest}]
patches:
  - target: {kind: Deployment}
    patch: |
      - {op: add, path: /spec/replicas, value: 1}
      - {op: remove, path: /spec/template/spec/containers/0/ports}
      - {op: remove, path: /spec/template/spec/containers/0/startupProbe}
      - {op: remove, path: /spec/template/spec/containers/0/readinessProbe}
      - {op: remove, path: /spec/template/spec/containers/0/livenessProbe}
  - patch: "{$patch: delete, apiVersion: v1, kind: Service, metadata: {name: pleatwright}}"
  - patch: "{$patch: delete, apiVersion: autoscaling/v2, kind: HorizontalPodAutoscaler, metadata: {name: pleatwright}}"
  - patch: "{$patch: delete, apiVersion: policy/v1, kind: PodDisruptionBudget, metadata: {name: pleatwright}}"
  - patch: "{$patch: delete, apiVersion: networking.k8s.io/v1, kind: NetworkPolicy, metadata: {name: pleatwright}}"
"""


def check_pod(engine, folder):
    """Play it, look at it, and end it."""
    say("the Deployment as a pod: one replica, no network, no probes")
    copy = folder / "pod"
    shutil.copytree(KUBERNETES / "base", copy / "base")
    (copy / "kustomization.yaml").write_text(KUSTOMIZATION)
    (copy / "pod.yaml").write_text(render(copy))
    engine.podman("kube", "play", "--network", "none", copy / "pod.yaml")
    [name] = [each for each in engine.podman("ps", "--format", "{{.Names}}").split() if each.endswith("-pleatwright")]
    container = Container(engine, name)
    container.wait_until_ready()
    rates = json.loads(container.ask("GET", "/health/ready")[2])["rates"]
    check(rates and not rates["trouble"], "it is ready, and the rate book of its ConfigMap is in force")
    check(container.status("Uid") == ["65532"] * 4, "it runs as 65532")
    check(int(container.status("CapBnd")[0], 16) == 0, "it has no capability")
    check(engine.inspect(name)["HostConfig"]["ReadonlyRootfs"], "its file system cannot be written")
    ended, seconds = container.stop(45)
    check(ended == 0, f"told to end, it ended after {seconds:.1f} s, 10 s of draining among them, with status 0")
