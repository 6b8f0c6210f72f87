using System.Diagnostics.CodeAnalysis;
using System.Runtime.CompilerServices;
using Bunit;

namespace ShopFloor.Web.Tests.Support;

/// <summary>How long pages under test are waited for: a busy machine may need more than the library's one second, and who succeeds does not wait.</summary>
internal static class Patience
{
    [ModuleInitializer]
    [SuppressMessage(
        "Usage",
        "CA2255:The 'ModuleInitializer' attribute should not be used in libraries",
        Justification = "Nobody loads this assembly but the runner of its tests, and the figure must stand before the first of them."
    )]
    internal static void Set() => BunitContext.DefaultWaitTimeout = TimeSpan.FromSeconds(30);
}
