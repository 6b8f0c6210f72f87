using System.Net;
using Microsoft.Extensions.Options;

namespace ShopFloor.Web.Hosting;

/// <summary>What whoever runs the program sets, in the section <c>ShopFloor</c> of appsettings or as <c>ShopFloor__Name</c> in the environment.</summary>
public sealed class HostSettings
{
    public const string Section = "ShopFloor";

    /// <summary>Where database, pictures, keys, logs and backups lie. Relative paths start at the program's folder.</summary>
    public string DataFolder { get; set; } = "App_Data";

    /// <summary>True when people reach the program by https, here or at a proxy before it: the sign-in cookie then never travels in the open.</summary>
    public bool Https { get; set; }

    /// <summary>How the workshop writes: language, numbers, days and the clock, for everybody who has chosen no other language.</summary>
    public string Culture { get; set; } = "en-GB";

    /// <summary>Path under which a proxy shows the program, "" or "/shop".</summary>
    public string PathBase { get; set; } = "";

    /// <summary>Addresses of proxies whose word about the caller's address and scheme is believed; none: nobody's is.</summary>
    public IList<string> KnownProxies { get; } = [];

    /// <summary>The name that passkeys are bound to, without https:// and port; empty: the host of the workshop's web address, else the one that was asked for.</summary>
    public string PasskeyDomain { get; set; } = "";

    /// <summary>Sign-in tries per minute and address.</summary>
    public int SignInsPerMinute { get; set; } = 10;

    /// <summary>Files that may be sent per minute and address.</summary>
    public int UploadsPerMinute { get; set; } = 60;

    /// <summary>Pages and pictures of secret links and the sign-in that may be asked for per minute and address.</summary>
    public int LinkCallsPerMinute { get; set; } = 300;

    /// <summary>Largest file that may be sent, in megabytes of 1024 × 1024 bytes.</summary>
    public int UploadMegabytes { get; set; } = 25;

    /// <summary>The same in bytes, for whoever takes files in.</summary>
    public long UploadBytes => UploadMegabytes * 1024L * 1024;

    /// <summary>Fill an empty database with the invented demo workshop; without it as the environment says (Development: yes).</summary>
    public bool? Demo { get; set; }

    /// <summary>Lets webhooks call private addresses and plain http. Only for tests: it opens the workshop's own network to whoever may set one up.</summary>
    public bool WebhooksInside { get; set; }

    /// <summary>Calls of the HTTP API that one key may make in a minute.</summary>
    public int ApiCallsPerMinute { get; set; } = 120;

    /// <summary>Rounds up to which the planner searches while nothing moves, 1 to 10000: more make better plans and keep one processor longer busy.</summary>
    public int PlanRounds { get; set; } = 384;

    /// <summary>Hour of the server's day from which the day's backup is made, 0 to 23.</summary>
    public int BackupHour { get; set; } = 3;

    /// <summary>Where backups go; empty: "backups" in the data folder. Another disk is better.</summary>
    public string BackupFolder { get; set; } = "";

    /// <summary>Days whose backup is kept, and as many that were made by hand; the oldest go.</summary>
    public int BackupsKept { get; set; } = 30;

    /// <summary>Seals backups with this passphrase; empty: they are not sealed. Better named as a file.</summary>
    public string BackupPassphrase { get; set; } = "";

    /// <summary>A file whose first line is the passphrase; empty: none.</summary>
    public string BackupPassphraseFile { get; set; } = "";

    /// <summary>The passphrase; null: backups are not sealed.</summary>
    public string? ReadPassphrase() =>
        BackupPassphraseFile.Length > 0 ? File.ReadLines(BackupPassphraseFile).FirstOrDefault()?.Trim()
        : BackupPassphrase.Length > 0 ? BackupPassphrase
        : null;
}

/// <summary>Says at the start what is wrong with the settings, each with its name, and so keeps a half-working program from starting.</summary>
public sealed class HostSettingsCheck : IValidateOptions<HostSettings>
{
    public ValidateOptionsResult Validate(string? name, HostSettings options)
    {
        var faults = Faults(options).ToList();
        return faults.Count == 0 ? ValidateOptionsResult.Success : ValidateOptionsResult.Fail(faults);
    }

    /// <summary>Shorter ones can be tried out (common practice, no source).</summary>
    private const int LeastPassphrase = 12;

    private static IEnumerable<string> PassphraseFaults(HostSettings s)
    {
        if (s.BackupPassphrase.Length > 0 && s.BackupPassphraseFile.Length > 0)
            yield return "ShopFloor:BackupPassphrase and ShopFloor:BackupPassphraseFile are both set: use one.";
        else if (s.BackupPassphraseFile.Length > 0 && !File.Exists(s.BackupPassphraseFile))
            yield return "ShopFloor:BackupPassphraseFile names a file that is not there.";
        else if (s.ReadPassphrase() is { Length: < LeastPassphrase } || (s.BackupPassphraseFile.Length > 0 && s.ReadPassphrase() is null))
            yield return $"The passphrase of backups must have at least {LeastPassphrase} characters.";
    }

    private static IEnumerable<string> Faults(HostSettings s)
    {
        foreach (var fault in PassphraseFaults(s))
            yield return fault;
        if (string.IsNullOrWhiteSpace(s.DataFolder))
            yield return "ShopFloor:DataFolder is empty: name a folder that the program may write to.";
        if (!Languages.All.Contains(s.Culture, StringComparer.Ordinal))
            yield return $"ShopFloor:Culture is '{s.Culture}': it must be one of {string.Join(", ", Languages.All)}.";
        if (s.PathBase.Length > 0 && (s.PathBase[0] != '/' || s.PathBase[^1] == '/'))
            yield return $"ShopFloor:PathBase is '{s.PathBase}': it must be empty or begin and not end with a slash.";
        foreach (var proxy in s.KnownProxies.Where(p => !IPAddress.TryParse(p, out _)))
            yield return $"ShopFloor:KnownProxies has '{proxy}': it must be an IP address.";
        if (s.PasskeyDomain.Length > 0 && Uri.CheckHostName(s.PasskeyDomain) != UriHostNameType.Dns)
            yield return $"ShopFloor:PasskeyDomain is '{s.PasskeyDomain}': it must be a name such as shop.example, without https:// and port.";
        if (s.SignInsPerMinute is < 1 or > 100_000)
            yield return "ShopFloor:SignInsPerMinute must be from 1 to 100000.";
        if (s.UploadMegabytes is < 1 or > 200)
            yield return "ShopFloor:UploadMegabytes must be from 1 to 200.";
        if (s.UploadsPerMinute is < 1 or > 100_000)
            yield return "ShopFloor:UploadsPerMinute must be from 1 to 100000.";
        if (s.LinkCallsPerMinute is < 1 or > 100_000)
            yield return "ShopFloor:LinkCallsPerMinute must be from 1 to 100000.";
        if (s.ApiCallsPerMinute is < 1 or > 100_000)
            yield return "ShopFloor:ApiCallsPerMinute must be from 1 to 100000.";
        if (s.PlanRounds is < 1 or > 10_000)
            yield return "ShopFloor:PlanRounds must be from 1 to 10000.";
        if (s.BackupHour is < 0 or > 23)
            yield return "ShopFloor:BackupHour must be from 0 to 23.";
        if (s.BackupsKept is < 1 or > 10_000)
            yield return "ShopFloor:BackupsKept must be from 1 to 10000.";
    }
}
